"""The command as a process of its own: pipes, encodings, what is loaded."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.unit.cli.calling import Folder

ROOT = Path(__file__).resolve().parents[3]
TOGETHER = ("matplotlib", "scipy", "reportlab")


def run(*command: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    paths = os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH", ""))))
    return subprocess.run(
        [sys.executable, *command],
        capture_output=True,
        check=False,
        env=os.environ | {"PYTHONPATH": paths} | environment,
        timeout=120,
    )


@pytest.mark.parametrize("module", ["profilestack", "profilestack.cli"])
def test_the_module_is_the_command(module: str, folder: Folder) -> None:
    answer = run("-m", module, "--version")
    assert answer.returncode == 0
    assert answer.stdout.startswith(b"profilestack ")


@pytest.mark.parametrize(
    "doing",
    [
        "import profilestack",
        "from profilestack.cli.main import make_parser; make_parser().format_help()",
        "from profilestack.cli.main import main; main(['bits', '@small-shop'])",
        "from profilestack.cli.main import main; main(['cut', 'no-such-file'])",
    ],
)
def test_slow_libraries_are_loaded_only_where_they_work(doing: str, folder: Folder) -> None:
    told = f"import json, sys; print(json.dumps([m for m in {TOGETHER!r} if m in sys.modules]))"
    answer = run("-c", f"{doing}\n{told}")
    assert json.loads(answer.stdout.splitlines()[-1]) == []


def test_help_loads_no_geometry(folder: Folder) -> None:
    doing = "from profilestack.cli.main import make_parser; make_parser().format_help()"
    told = "import sys; print('numpy' in sys.modules, 'shapely' in sys.modules)"
    assert run("-c", f"{doing}\n{told}").stdout.split() == [b"False", b"False"]


def test_a_reader_that_goes_away_is_no_fault(casing: str, folder: Folder) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    try:
        ended = subprocess.run(
            [sys.executable, "-m", "profilestack", "cut", casing],
            stdout=writing,
            stderr=subprocess.PIPE,
            check=False,
            env=environment,
            timeout=120,
        )
    finally:
        os.close(writing)
    assert ended.stderr == b""
    assert ended.returncode == 1  # as the answer would have been


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a system without a full device")
def test_an_answer_that_cannot_be_printed_is_told(board: str, folder: Folder) -> None:
    with open("/dev/full", "wb") as full:
        ended = subprocess.run(
            [sys.executable, "-m", "profilestack", "cut", board],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
            env=os.environ | {"PYTHONPATH": str(ROOT)},
            timeout=120,
        )
    assert ended.returncode == 2
    assert ended.stderr.startswith(b"profilestack: the answer cannot be printed: ")
    assert b"Traceback" not in ended.stderr


def test_a_terminal_without_the_letters_shows_question_marks(folder: Folder) -> None:
    answer = run("-m", "profilestack", "bits", "@small-shop", PYTHONIOENCODING="ascii")
    assert answer.returncode == 0
    assert b"60? x 1/2" in answer.stdout
    assert answer.stderr == b""
