from __future__ import annotations

import os
import subprocess
import time
from pathlib import Path as FilePath
from typing import Any

import numpy as np
import pytest

from profilestack.errors import Cancelled, FileError, InputError, Problem
from profilestack.files.targets import READERS, isolation
from profilestack.files.targets.isolation import (
    read_bytes,
    read_tracing,
    reader_for,
)
from profilestack.files.targets.plain_tracing import tracing_from, tracing_to_plain
from profilestack.files.targets.wishes import (
    MOST_NUMBERS,
    PictureWishes,
    ReadingWishes,
    from_plain,
    to_plain,
)
from profilestack.geometry.path import Line
from profilestack.progress import Progress
from profilestack.targets.tracing import Chain, Curve, Tracing
from tests.unit.files.targets.drawings import dxf_of_pieces, svg, svg_path_of
from tests.unit.targets.profiles import STEPPED, drawn

MIXED = Tracing(
    (drawn(STEPPED), Chain((Curve(np.array([[0.0, 1.0], [2.5, 3.0]])),), "row", True)),
    "in",
    0.07,
    ("a note",),
)


def test_a_tracing_goes_over_to_another_process_and_back_unchanged() -> None:
    back = tracing_from(tracing_to_plain(MIXED))
    assert back.chains[0].pieces == MIXED.chains[0].pieces
    np.testing.assert_array_equal(back.chains[1].flatten(), MIXED.chains[1].flatten())
    assert (back.units, back.tolerance, back.notes) == ("in", 0.07, ("a note",))
    assert (back.chains[1].label, back.chains[1].measured) == ("row", True)


def test_wishes_go_over_and_back() -> None:
    picture = PictureWishes(points=(1.0, 2.0, 30.0, 4.0), distance=9.0, trace="line")
    wishes = ReadingWishes("in", ("A", "B"), ("1", "3"), "x", picture)
    assert from_plain(to_plain(wishes)) == wishes


@pytest.mark.parametrize("ending", READERS)
def test_every_ending_has_its_reader(ending: str) -> None:
    assert callable(reader_for(ending))


def test_drawings_are_read_in_another_process(tmp_path: FilePath) -> None:
    (tmp_path / "a.dxf").write_bytes(dxf_of_pieces(STEPPED, "R2010"))
    (tmp_path / "a.SVG").write_bytes(svg(f'<path d="{svg_path_of(STEPPED)}"/>'))
    dxf, drawing = read_tracing(tmp_path / "a.dxf"), read_tracing(tmp_path / "a.SVG")
    assert len(dxf.chains) == 6
    assert drawing.chains[0].end == pytest.approx(STEPPED.end)


def test_problems_come_back_with_the_file_s_name(tmp_path: FilePath) -> None:
    file = tmp_path / "a.csv"
    file.write_text("x_mm,z_mm\n1,2\n3,nan\n")
    with pytest.raises(InputError) as caught:
        read_tracing(file)
    (problem,) = caught.value.problems
    assert problem == Problem("", "'nan' is not finite", "a number", line=3, file=str(file))


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("a.step", "files ending in .step are not read"),
        ("a", "files ending in nothing are not read"),
        ("a.dfx", "did you mean '.dxf'?"),
        ("gone.dxf", "there is no such file"),
        ("empty.dxf", "is empty"),
        ("folder.dxf", "is no plain file"),
        ("large.dxf", "is larger than 20 MiB"),
    ],
)
def test_what_is_not_even_opened(tmp_path: FilePath, name: str, told: str) -> None:
    (tmp_path / "empty.dxf").touch()
    (tmp_path / "folder.dxf").mkdir()
    with open(tmp_path / "large.dxf", "wb") as large:
        large.truncate(20 * 2**20 + 1)
    with pytest.raises(FileError, match=name) as caught:
        read_tracing(tmp_path / name)
    assert told in str(caught.value)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_that_never_ends_is_not_opened(tmp_path: FilePath) -> None:
    os.mkfifo(tmp_path / "pipe.csv")
    with pytest.raises(FileError, match="is no plain file"):
        read_tracing(tmp_path / "pipe.csv")


def with_reader(monkeypatch: pytest.MonkeyPatch, body: str) -> None:
    """Let the other process read with a reader of the given lines."""
    lines = [
        "import sys; from profilestack.files.targets import isolation",
        "def read(data, wishes):",
    ]
    lines += [f"    {line}" for line in body.splitlines()]
    lines += ["isolation.reader_for = lambda ending: read", "isolation.serve()"]
    program = "import json, sys; sys.path[:] = json.loads(sys.argv[1])\n" + "\n".join(lines)
    monkeypatch.setattr(isolation, "_PROGRAM", program)


@pytest.fixture
def file(tmp_path: FilePath) -> FilePath:
    path = tmp_path / "a.csv"
    path.write_text(f"x_mm,z_mm\n0,0\n{time.time_ns() % 1000}.5,1\n")
    return path


def test_a_reader_that_hangs_is_stopped(monkeypatch: pytest.MonkeyPatch, file: FilePath) -> None:
    with_reader(monkeypatch, "while True: pass")
    monkeypatch.setattr(isolation, "SECONDS", 1.0)
    with pytest.raises(FileError, match="took longer than 1 s to read and was given up"):
        read_tracing(file)


def test_a_reader_that_fills_the_memory_is_stopped(
    monkeypatch: pytest.MonkeyPatch, file: FilePath
) -> None:
    pytest.importorskip("resource")
    with_reader(monkeypatch, "return bytearray(64 * 2**30)")
    with pytest.raises(FileError, match="it needs more than 2 GiB of memory"):
        read_tracing(file)


def test_a_reader_that_dies_costs_only_its_own_process(
    monkeypatch: pytest.MonkeyPatch, file: FilePath
) -> None:
    with_reader(monkeypatch, "import os; os._exit(3)")
    with pytest.raises(FileError, match="its reader failed: it ended with 3"):
        read_tracing(file)


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ("return [][1]", "cannot be understood: IndexError: list index out of range"),
        ("def deep(): deep()\ndeep()", "cannot be understood: it is nested too deep"),
        ("raise MemoryError", "it needs more than 2 GiB of memory"),
    ],
)
def test_a_library_that_stumbles_is_told_in_one_line(
    monkeypatch: pytest.MonkeyPatch, file: FilePath, body: str, told: str
) -> None:
    with_reader(monkeypatch, body)
    with pytest.raises(FileError, match="a.csv") as caught:
        read_tracing(file)
    assert told in str(caught.value)


def test_what_a_reader_prints_does_not_spoil_its_answer(
    monkeypatch: pytest.MonkeyPatch, file: FilePath
) -> None:
    with_reader(
        monkeypatch,
        "print('hello')\nfrom profilestack.files.targets.points_csv import read_points\n"
        "return read_points(data, wishes)",
    )
    assert read_tracing(file).units == "mm"


def test_numbers_that_are_none_do_not_come_back() -> None:
    wild = Tracing((Chain((Line((0.0, 0.0), (float("nan"), 1.0)),), "layer A"),))
    with pytest.raises(InputError, match=r"not finite \(layer A\)"):
        tracing_to_plain(wild)


def test_too_many_numbers_do_not_come_back() -> None:
    many = Tracing((Chain((Curve(np.zeros((MOST_NUMBERS, 2))),)),))
    with pytest.raises(InputError, match="more than 200000 coordinates"):
        tracing_to_plain(many)


def test_stopped_reading_ends_its_process(monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[subprocess.Popen[bytes]] = []
    usual = subprocess.Popen

    def start(*call: Any, **options: Any) -> subprocess.Popen[bytes]:
        started.append(usual(*call, **options))
        return started[-1]

    monkeypatch.setattr(subprocess, "Popen", start)
    monkeypatch.setattr(isolation, "_PROGRAM", "import time; time.sleep(30)")
    begun = time.monotonic()
    with pytest.raises(Cancelled):
        read_bytes("slow.csv", b"1,2\n3,4\n", ReadingWishes(), Progress(is_stopped=lambda: True))
    assert time.monotonic() - begun < 10.0
    assert [process.poll() is not None for process in started] == [True]


def test_same_bytes_are_read_once_whoever_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    data = b"x_mm,z_mm\n0,0\n5,0\n9,4.25\n"
    first = read_bytes("once.csv", data, ReadingWishes(), Progress())
    monkeypatch.setattr(isolation, "_PROGRAM", "raise SystemExit(1)")
    assert (
        read_bytes("once.csv", data, ReadingWishes(), Progress(lambda share, words: None)) is first
    )
