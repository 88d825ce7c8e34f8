"""``profilestack find``: its answer as text and JSON, what it writes, how it ends."""

from __future__ import annotations

import dataclasses
import re
from typing import Any

import pytest

from profilestack.files.stack_file import read_stack
from profilestack.jobs import find as job
from tests.unit.cli.calling import BOARD, HOLLOW, Call, Folder, without_bits
from tests.unit.cli.test_cut_json import NUMBER, POINT, TEXT, misfits
from tests.unit.cli.test_cut_text import bare_numbers

OPTION = {
    "objective": TEXT,
    "bits": [TEXT],
    "passes": [
        {"bit": TEXT, "setup": TEXT, "offset": NUMBER, "depth": NUMBER, "relief": "yes or no"}
    ],
    "leftover_max": NUMBER,
    "overcut_max": NUMBER,
    "unreached_max": NUMBER,
    "minutes": NUMBER,
    "cost": NUMBER,
    "bound": NUMBER,
    "proved": "yes or no",
}
STRETCH = {"from": POINT, "to": POINT, "leftover": NUMBER, "why": TEXT}
PURCHASE = {"bit": TEXT, "gain": TEXT}
TOP = ("format", "options", "unreached", "buy", "seconds")
"""The keys that are never renamed; others may stand beside them."""


def without_yes_or_no(value: Any) -> Any:
    """The same with truth values as texts, so that they can be told from numbers."""
    if isinstance(value, dict):
        return {key: without_yes_or_no(each) for key, each in value.items()}
    if isinstance(value, list):
        return [without_yes_or_no(each) for each in value]
    return str(value) if isinstance(value, bool) else value


def form(wanted: Any) -> Any:
    """The form with "yes or no" as texts, to go with :func:`without_yes_or_no`."""
    if isinstance(wanted, dict):
        return {key: form(each) for key, each in wanted.items()}
    if isinstance(wanted, list):
        return [form(each) for each in wanted]
    return TEXT if wanted == "yes or no" else wanted


def core_box(name: str, diameter: float) -> str:
    return HOLLOW.replace('"hollow"', f'"{name}"').format(diameter=diameter)


@pytest.fixture
def fitting(folder: Folder) -> str:
    """A library of one bit that makes the board's hollow in one pass."""
    return folder.write("fitting.bits.toml", core_box("right", 20))


@pytest.fixture
def too_wide(folder: Folder) -> str:
    """A library of a bit that cannot go into the hollow as far as it should."""
    return folder.write("wide.bits.toml", core_box("wide", 30))


def test_one_pass_is_found_and_proved(board: str, fitting: str, call: Call) -> None:
    answer = call("find", board, "--bits", fitting, "--json")
    assert answer.code == 0
    found = answer.json
    assert found["format"] == "profilestack-find/1"
    assert set(TOP) <= set(found)
    first = found["options"][0]
    trimmed = {key: first[key] for key in OPTION}
    assert misfits(without_yes_or_no(trimmed), form(OPTION)) == []
    assert first["objective"] == "passes"
    assert (first["cost"], first["bound"], first["proved"]) == (1, 1, True)
    (single,) = first["passes"]
    assert (single["bit"], single["relief"]) == ("right", False)
    assert single["offset"] == pytest.approx(30.0, abs=0.3)
    assert single["depth"] == pytest.approx(10.0, abs=0.3)
    assert first["leftover_max"] <= 0.30
    assert first["overcut_max"] <= 0.10
    assert found["unreached"] == []


def test_the_documents_tolerance_can_be_tightened(board: str, fitting: str, call: Call) -> None:
    given = ("--bits", fitting, "--leftover", "0.02", "--overcut", "0.02 mm", "--json")
    first = call("find", board, *given).json["options"][0]
    assert max(first["leftover_max"], first["overcut_max"]) <= 0.02


def test_what_stays_is_told_at_1(board: str, too_wide: str, call: Call) -> None:
    answer = call("find", board, "--bits", too_wide, "--json")
    assert answer.code == 1
    found = answer.json
    assert found["unreached"]
    assert all(misfits(each, STRETCH) == [] for each in found["unreached"])
    assert found["buy"]
    assert all(misfits(each, PURCHASE) == [] for each in found["buy"])
    text = call("find", board, "--bits", too_wide)
    assert text.code == 1
    assert "No bit reaches" in text.out
    assert "What would help" in text.out


def test_the_text_reads_well(board: str, fitting: str, too_wide: str, call: Call) -> None:
    for library in (fitting, too_wide):
        for units in ("mm", "in"):
            out = call("find", board, "--bits", library, "--units", units).out
            lines = out.splitlines()
            assert all(len(line) <= 80 for line in lines)
            assert all(line == line.rstrip() for line in lines)
            assert "qualified operator" in " ".join(out.split())
    out = call("find", board, "--bits", fitting).out
    said = [line for line in out.splitlines() if "offered" in line or "allowed" in line]
    assert bare_numbers(said, ["1 bit offered"]) == ""
    assert re.search(r"^ +1 right +face +[\d.]+ +[\d.]+$", out, re.MULTILINE)
    assert "Way 1: fewest passes; proved" in out


def test_the_way_chosen_is_written_as_a_stack(
    board: str, fitting: str, folder: Folder, call: Call
) -> None:
    answer = call("find", board, "--bits", fitting, "-o", "new.stack.toml", "--plot", "way.svg")
    assert answer.code == 0
    assert "way 1 written to new.stack.toml" in answer.err
    assert (folder.path / "way-1.svg").read_bytes().startswith(b"<?xml")
    new = read_stack(folder.path / "new.stack.toml")
    assert new.title == "A board with a hollow"
    assert [single.bit for single in new.passes] == ["right"]
    again = call("cut", "new.stack.toml", "--bits", fitting)
    assert again.code == 0
    assert "It fits." in again.out


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--option", "0"], "--option: 0 is no way; expected 1 or more"),
        (["--option", "99"], "--option: there is no way 99; expected 1 to "),
        (["--setup", "edeg"], "did you mean 'edge'?"),
        (["--leftover", "-1"], "leftover"),
        (["--leftover", "thin"], "leftover: 'thin' is not a length"),
        (["--resolution", "0"], "resolution"),
        (["--passes", "0"], "passes"),
        (["--max-bits", "x"], "--max-bits"),
        (["--plot", "way.doc"], "no known kind of picture"),
        (["-o", "board.stack.toml"], "is the stack as well"),
        (["--bits", "no-such.bits.toml"], "there is no such file"),
    ],
)
def test_a_wrong_call_writes_nothing(
    arguments: list[str], told: str, board: str, fitting: str, folder: Folder, call: Call
) -> None:
    written = [] if "-o" in arguments else ["-o", "new.stack.toml"]
    answer = call("find", board, "--bits", fitting, *written, *arguments)
    assert (answer.code, answer.out) == (2, "")
    assert told in answer.err
    assert folder.names() == {board, fitting}


def test_without_a_target_there_is_nothing_to_find(
    folder: Folder, fitting: str, call: Call
) -> None:
    before, _, rest = without_bits(BOARD).partition("[target]")
    free = folder.write("free.stack.toml", before + "[[setup]]" + rest.partition("[[setup]]")[2])
    answer = call("find", free, "--bits", fitting)
    assert (answer.code, answer.out) == (2, "")
    assert "target" in answer.err


def test_cancelled_with_a_best_so_far_is_1_and_with_nothing_130(
    board: str, fitting: str, call: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    search = job.find

    def cut_short(*given: Any) -> job.FindResult:
        return dataclasses.replace(search(*given), stopped=True)

    def with_nothing(*given: Any) -> job.FindResult:
        return dataclasses.replace(cut_short(*given), options=())

    monkeypatch.setattr(job, "find", cut_short)
    answer = call("find", board, "--bits", fitting)
    assert answer.code == 1
    assert "Way 1" in answer.out
    monkeypatch.setattr(job, "find", with_nothing)
    answer = call("find", board, "--bits", fitting)
    assert (answer.code, answer.out, answer.err) == (130, "", "profilestack: cancelled\n")
