"""The report that people read: 80 columns, a unit with every number, the shop's words."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from profilestack.files.shipped import shipped_examples_dir
from profilestack.reports.text_report import cut_text
from tests.shop import core_box, judge, lines, straight
from tests.unit.cli.calling import BOARD, Call, Folder

EXAMPLES = sorted(shipped_examples_dir().rglob("*.stack.toml"))

NUMBER = r"-?\d[\d,]*(?:\.\d+)?"
WITH_UNIT = (
    r"95 in 100\b",
    rf"{NUMBER} x {NUMBER} (?:mm|in)\b",
    rf"x {NUMBER}, z {NUMBER} (?:mm|in)\b",
    r"(?:\d+-)?\d+/\d+ in\b",
    rf"{NUMBER} (?:mm|in)[23]?\b",
    rf"{NUMBER} cm3\b",
    r"\d+ pieces?\b",
    r"\d+ times\b",
    r"\d+ trial cuts",
    r"\d+ degrees\b",
    r"[\d,]+ rpm\b",
    r"pass(?:es)? \d+(?:, \d+)*(?: and \d+)?",
    r"Ridges to sand: \d+",
    r"\d+ (?:lower ones|more inside corners|cautions? says? stop)",
)
"""How a number may stand in a sentence."""


def tables_of(text: str) -> tuple[list[str], list[str]]:
    """The lines of the tables (heads with units), and all others but the user's own words."""
    tables, rest = [], []
    for line in text.splitlines():
        is_row = re.match(r" *\d+ .*( -?\d+\.\d+){4}$", " ".join(line.split())) or re.match(
            r"  (leftover|not reached|overcut|cut away)[^:]*(holds|BROKEN)", line
        )
        (tables if is_row else rest).append(line)
    return tables, rest


def own_words(document: str) -> list[str]:
    """Titles, notes and names of a stack, the longest first."""
    tables = tomllib.loads(document)
    every = [tables["blank"], *tables.get("pass", []), *tables.get("setup", []), tables]
    keys = ("title", "note", "bit", "name", "species")
    words = {table[key] for table in every for key in keys if isinstance(table.get(key), str)}
    return sorted(words, key=len, reverse=True)


def bare_numbers(lines: list[str], own: list[str]) -> str:
    """What is left of the digits when every number with a unit is taken out."""
    text = " ".join(" ".join(lines).split())
    for word in own:
        text = text.replace(" ".join(word.split()), " ")
    for pattern in WITH_UNIT:
        text = re.sub(pattern, " ", text)
    return " ".join(re.findall(r"\S*\d\S*", text))


def test_bare_numbers_are_found() -> None:
    assert bare_numbers(["3 mm by 4"], []) == "4"
    assert bare_numbers(["x 3.00, z 4.00 mm of 1-1/2 in"], []) == ""
    assert bare_numbers(["core-box-2in"], ["core-box-2in"]) == ""


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name.partition(".")[0])
def test_every_example_reads_well(path: Path, units: str, call: Call) -> None:
    out = call("cut", str(path), "--units", units).out
    lines = out.splitlines()
    assert all(len(line) <= 80 for line in lines)
    assert all(line == line.rstrip() for line in lines)
    assert "\n\n\n" not in out
    tables, rest = tables_of(out)
    passes = tomllib.loads(path.read_text(encoding="utf-8")).get("pass", [])
    assert len(tables) == len(passes) + 4
    heads = [line for line in rest if re.search(rf"\b{units}2\b", line) and "keeps" not in line]
    assert len(heads) == (2 if passes else 1)
    own = own_words(path.read_text(encoding="utf-8"))
    assert bare_numbers([line for line in rest if line not in heads], own) == ""


def test_the_report_of_the_board(board: str, call: Call) -> None:
    assert call("cut", board).out == REPORT


REPORT = """\
A board with a hollow
Blank 60 x 30 mm, red oak; straight, 1000 mm long; 3 pieces.

                                edge to    below
                                 centre     face   removes    volume
pass bit                setup        mm       mm       mm2       cm3
   1 hollow             face      30.00    10.00    157.06     157.1
     the hollow
Switched off: pass 2.
The section keeps 1642.94 mm2 of the blank's 1800.00 mm2: 1642.9 cm3 a piece.

It fits.
                        worst    allowed              rms       area     volume
                           mm         mm               mm        mm2        cm3
  leftover (proud)      0.000      0.300 holds      0.000      0.000       0.00
  not reached           0.000      0.300 holds
  overcut (gouge)       0.000      0.100 holds      0.000      0.000       0.00
  cut away whole        0.000      0.100 holds

No cautions.

Computed for the bits as told, arcs drawn true to 0.001 mm. Bits and machines
differ: measure yours, and make a test cut in scrap. The marks on your bits,
your machine's manual, local rules and a qualified operator come first.
"""
"""The half disc is pi/2 x 10^2 = 157.08 mm2; its chords take 0.02 off."""


def test_the_head_in_inches(board: str, call: Call) -> None:
    out = call("cut", board, "--units", "in").out
    assert "Blank 2.362 x 1.181 in, red oak; straight, 39.37 in long; 3 pieces." in out
    # pi/2 x (10/25.4)^2
    assert re.search(r"1 hollow +face +1\.181 +0\.394 +0\.243 ", out)


def test_repeats_copies_stretches_and_roughing_out_are_told() -> None:
    report = judge(
        (core_box(12.0), 20.0, 4.0, {"count": 2, "pitch": 15.0, "begin": 50.0, "end": 800.0}),
        (straight(6.0), 50.0, 4.0, {"relief": True, "note": "room for the nut"}),
        (straight(6.0), 50.0, 6.0, {"relief": True, "note": "rough out the groove"}),
    )
    text = cut_text(report, "mm")
    assert "     2 times, 15 mm apart; from 50 mm to 800 mm along the part\n" in text
    assert "     rough out; room for the nut\n" in text
    assert "     rough out the groove\n" in text


def test_the_same_sentence_is_said_once() -> None:
    report = judge(
        (core_box(40.0), 20.0, 4.0),
        (straight(30.0), 40.0, 4.0),
        (straight(30.0), 40.0, 3.0),
        (straight(30.0), 40.0, 2.0),
    )
    text = " ".join(cut_text(report, "mm").split())
    assert "note core-box 40 and straight 30: At most 18,000 rpm is usual" in text
    assert text.count("rpm") == 1
    assert "note passes 3 and 4: The pass cuts nothing" in text


def test_a_stack_without_passes_says_so(folder: Folder, call: Call) -> None:
    bare = BOARD.partition("[[setup]]")[0]
    assert (
        "\nNo passes: nothing is cut yet.\n"
        in call("cut", folder.write("bare.stack.toml", bare)).out
    )


def test_passes_that_are_off_are_named(board: str, call: Call) -> None:
    assert "Switched off: pass 2." in call("cut", board).out


@given(
    st.text(max_size=200), st.text(min_size=1, max_size=90), st.text(max_size=200), st.booleans()
)
def test_no_words_of_a_file_break_the_layout(title: str, bit: str, note: str, inches: bool) -> None:
    placed = (core_box(12.0, max_rpm=10_000), 20.0, 4.0, {"note": note})
    report = judge(placed, title=title)
    renamed = core_box(12.0)
    object.__setattr__(renamed, "id", bit)
    object.__setattr__(report.cut.passes[0], "bit", renamed)
    lines = cut_text(report, "in" if inches else "mm").splitlines()
    assert all(len(line) <= 80 for line in lines)
    assert all(line == line.rstrip() for line in lines)
    assert all(letter.isprintable() or letter == " " for line in lines for letter in line)
    assert any(line.startswith("The section keeps ") for line in lines)


def test_ridges_at_the_blanks_face_fit_the_page() -> None:
    target = lines((0.0, 30.0), (25.36, 30.0), (25.36, 0.0))
    report = judge((straight(12.0), 32.0, 4.0), target=target)
    for units in ("mm", "in"):
        text = cut_text(report, units)
        assert "the blank's face" in text
        assert all(len(line) <= 80 for line in text.splitlines())


def test_long_lengths_keep_their_digits_and_the_layout() -> None:
    report = judge((core_box(12.0), 123456.789, 4.0), (core_box(12.0), 20.0, 4.0))
    text = cut_text(report, "mm")
    assert "123456.79" in text
    assert all(len(line) <= 80 for line in text.splitlines())


def test_the_report_can_be_written_to_a_file(board: str, folder: Folder, call: Call) -> None:
    printed = call("cut", board).out
    assert call("cut", board, "-o", "report.txt").out == ""
    assert (folder.path / "report.txt").read_text(encoding="utf-8") == printed


def test_the_spread_is_told(board: str, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("profilestack.jobs.spread.CUTS", 5)
    out = call("cut", board, "--spread").out
    assert "(5 trial cuts)" in out
    _, rest = tables_of(out)
    spread = [line for line in rest if "half within" in line or "trial" in line]
    assert len(spread) == 3
    assert bare_numbers(spread, []) == ""
