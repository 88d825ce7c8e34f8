from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path as FilePath

import profilestack
from profilestack.errors import InputError, Problem
from profilestack.files.targets import READERS
from profilestack.geometry.path import Line
from profilestack.jobs.target import TargetRequest, make_target
from profilestack.session.target_import import (
    chain_name,
    chain_size,
    chain_words,
    kind_of_file,
    laid_on,
    on_screen,
    problems_on_screen,
    summary,
    with_imported,
)
from profilestack.stack import Blank, Rectangle, Round, Stack, StraightRun
from profilestack.targets.tracing import Chain
from tests.unit.files.targets.drawings import svg
from tests.unit.targets.profiles import SECTION, STEPPED

WHERE = FilePath(profilestack.__file__).parent


def options_in_hints() -> list[str]:
    """Every text of the readers and the fitting that names an option of the command line."""
    files = [
        *WHERE.glob("files/targets/*.py"),
        *WHERE.glob("targets/*.py"),
        WHERE / "jobs/target.py",
    ]
    found: list[str] = []
    for file in files:
        found += re.findall(r'"([^"\n]*(?<!-)--[a-z][^"\n]*)"', file.read_text())
    return found


def test_no_hint_names_an_option_on_the_screen() -> None:
    hints = options_in_hints()
    assert len(hints) > 8
    left = [said for hint in hints if "--" in (said := on_screen(hint))]
    assert left == []


def test_every_file_that_is_read_has_its_questions() -> None:
    kinds = {ending: kind_of_file(FilePath(f"profile{ending.upper()}")) for ending in READERS}
    assert {ending for ending, kind in kinds.items() if kind == "drawing"} == {".dxf", ".svg"}
    assert kinds[".xyz"] == "table"
    assert kinds[".png"] == "picture"


def test_problems_keep_their_field_and_lose_the_file() -> None:
    problem = Problem(
        "units", "is silent", "mm", "say which: --units-of-file mm or in", file="a.dxf"
    )
    assert problems_on_screen(InputError(problem)) == (
        replace(problem, hint='choose mm or inches under "Its numbers are"', file=""),
    )


def test_import_brings_profile_and_blank_and_keeps_the_rest(tmp_path: FilePath) -> None:
    file = tmp_path / "step.svg"
    file.write_bytes(svg('<path d="M 0,10 L 20,10 L 20,20 L 50,20" fill="none" stroke="black"/>'))
    report = make_target(TargetRequest(file))
    own = Stack(Blank(Rectangle(60.0, 20.0), "maple"), StraightRun(1234.0), title="Mine")
    edited = with_imported(own, report)
    assert edited.target == report.stack.target
    assert laid_on(edited) == laid_on(report.stack)
    assert edited.blank.species == "maple"
    assert replace(edited, target=None, blank=own.blank) == own
    assert "3 lines and arcs fitted" in summary(report, "mm")
    assert "within the tolerance" in summary(report, "mm")


def test_only_a_plain_board_has_width_and_thickness() -> None:
    assert laid_on(Stack(Blank(Rectangle(60.0, 20.0)), StraightRun(9.0))) == (60.0, 20.0)
    assert laid_on(Stack(Blank(Round(60.0)), StraightRun(9.0))) is None


def test_lines_of_a_drawing_are_told_apart() -> None:
    open_one = Chain(STEPPED.segments, "layer CURVE")
    assert chain_name(open_one) == "CURVE"
    assert chain_words(open_one, 3, "mm") == "3: CURVE, 92.8 mm, open"  # 30 + 20 pi
    assert chain_words(Chain(SECTION.segments), 1, "mm") == "1: 212.8 mm, closed"
    assert chain_size(open_one, "in") == "3.65 in"
    far = Chain((Line((0.0, 0.0), (2400.4, 0.0)),))
    assert chain_size(far, "mm") == "2400 mm"


def test_what_is_expected_is_said_in_the_words_of_the_screen() -> None:
    problem = Problem("pick", "99 names no chain", '"longest" or 1 to 17')
    assert problems_on_screen(InputError(problem))[0].expected == "1 to 17"
