"""What a table and a verdict say of a stack: words, numbers, signs."""

from __future__ import annotations

from dataclasses import replace

import pytest

from profilestack.errors import Problem
from profilestack.files.shipped import shipped_examples_dir
from profilestack.jobs.cut import CutReport, cut_and_judge
from profilestack.jobs.opening import open_stack
from profilestack.planning.minutes import minutes_of
from profilestack.session.pass_rows import (
    area_text,
    caution_text,
    cautions_in_order,
    moment_text,
    pass_rows,
    problem_text,
    standing_words,
    volume_text,
)
from profilestack.session.verdict import figures_of, unreached_place, verdict_of
from profilestack.stack import Pass, Stack, StraightRun, Tolerance
from tests.shop import board, lines, stack_of, straight

# a groove 12 wide and 5 deep in a board 60 x 30, its left side at 20
GROOVE = lines((0, 30), (20, 30), (20, 25), (32, 25), (32, 30), (60, 30))


def grooved(offset: float, depth: float, **other: object) -> CutReport:
    stack, bits = stack_of((straight(12.0), offset, depth), target=GROOVE, **other)
    return cut_and_judge(stack, bits)


def test_a_cut_within_tolerance_fits() -> None:
    verdict = verdict_of(grooved(26.0, 5.0), "mm")
    assert (verdict.fits, verdict.words, verdict.stops) == (True, "It fits.", 0)


def test_what_is_broken_is_told_with_its_limit_in_the_units_asked() -> None:
    shallow = grooved(26.0, 4.0)
    assert verdict_of(shallow, "mm").words == (
        "It does not fit: leftover (proud) 1.00 mm, 0.30 mm allowed."
    )
    assert verdict_of(shallow, "in").words == (
        "It does not fit: leftover (proud) 0.039 in, 0.012 in allowed."
    )
    beside = verdict_of(grooved(27.0, 5.0), "mm").words
    assert "leftover (proud) 1.00 mm, 0.30 mm allowed; overcut (gouge) 1.00 mm" in beside


def test_a_number_just_beyond_its_limit_is_told_apart_from_it() -> None:
    words = verdict_of(grooved(26.0, 5.1004), "mm").words
    assert words == "It does not fit: overcut (gouge) 0.1004 mm, 0.1000 mm allowed."


def test_figures_have_signs_and_limits() -> None:
    report = grooved(26.0, 5.05)
    leftover, overcut, bits, passes, minutes = figures_of(report, "mm", None)
    assert (leftover.text, leftover.beside, leftover.holds) == ("0.00 mm", "0.30 mm allowed", True)
    assert (overcut.text, overcut.holds) == ("−0.05 mm", True)
    assert (bits.text, passes.text, passes.beside, minutes.text) == ("1", "1", "", "–")
    shallow = figures_of(grooved(26.0, 4.0), "mm", None)[0]
    assert (shallow.text, shallow.holds) == ("+1.00 mm", False)


def test_a_corner_that_no_bit_reaches_is_said_to_be_that() -> None:
    opened = open_stack(shipped_examples_dir() / "cornice" / "crown.stack.toml")
    report = cut_and_judge(opened.stack, opened.bits)
    assert report.comparison is not None
    assert report.comparison.unreached_max > report.comparison.leftover.max + 0.05
    leftover, overcut, *_ = figures_of(report, "mm", None)
    assert leftover.text == f"+{report.comparison.unreached_max:.2f} mm"
    assert leftover.beside == "not reached; 0.30 mm allowed"
    assert overcut.beside == "0.10 mm allowed"


def test_minutes_are_shown_with_what_they_assume() -> None:
    report = grooved(26.0, 5.0, run=StraightRun(1000.0, 5))
    minutes = minutes_of(report.cut, report.comparison)
    figure = figures_of(report, "mm", minutes)[4]
    assert figure.text == f"≈ {minutes.total:.0f} min"
    assert figure.about.startswith("A first reckoning")
    assert figure.beside == "5 pieces"
    assert "Assumed" in figure.about
    assert f"sanding {minutes.sanding:.0f} min" in figure.about


def test_without_a_target_or_without_passes_nothing_is_claimed() -> None:
    stack, bits = stack_of((straight(12.0), 26.0, 5.0))
    free = cut_and_judge(stack, bits)
    assert verdict_of(free, "mm").fits is None
    assert figures_of(free, "mm", None)[0].text == "–"
    off = Stack(
        board(), StraightRun(9.0), target=GROOVE,
        passes=tuple(replace(single, on=False) for single in stack.passes),
    )  # fmt: skip
    uncut = cut_and_judge(off, bits)
    assert verdict_of(uncut, "mm").words == "Nothing is cut yet."
    figures = figures_of(uncut, "mm", minutes_of(uncut.cut, uncut.comparison))
    assert [figure.text for figure in figures[2:]] == ["0", "0", "–"]
    assert figures[3].beside == "1 off"
    assert figures[0].text == "+5.00 mm"  # as deep as the groove


def test_stops_are_counted() -> None:
    deep = grooved(26.0, 40.0)
    stops = sum(caution.severity == "stop" for caution in deep.cautions)
    assert stops > 0
    assert verdict_of(deep, "mm").stops == stops
    ordered = cautions_in_order(deep)
    assert ordered[0].severity == "stop"
    assert sorted(map(str, ordered)) == sorted(map(str, deep.cautions))
    numbered = next(caution for caution in ordered if caution.number == 1)
    assert caution_text(numbered, "mm").startswith(
        {"stop": "STOP, pass 1: ", "warn": "mind, pass 1: ", "note": "note, pass 1: "}[
            numbered.severity
        ]
    )


def test_rows_share_the_largest_area() -> None:
    stack, bits = stack_of(
        (straight(10.0), 10.0, 2.0), (straight(20.0), 40.0, 5.0), (straight(10.0), 10.0, 1.0, {}),
        run=StraightRun(100.0),
    )  # fmt: skip
    stack = replace(stack, passes=(*stack.passes[:2], replace(stack.passes[2], on=False)))
    rows = pass_rows(stack, bits, cut_and_judge(stack, bits))
    assert [row.area for row in rows] == [pytest.approx(20.0), pytest.approx(100.0), None]
    assert [row.share for row in rows] == [pytest.approx(0.2), 1.0, 0.0]
    assert rows[1].volume == pytest.approx(10_000.0)
    assert area_text(rows[1].area, "mm") == "100.0 mm²"
    assert volume_text(rows[1].volume, "mm") == "10.0 cm³"
    assert area_text(645.16, "in") == "1.000 in²"
    assert volume_text(25.4**3, "in") == "1.0 in³"
    assert area_text(rows[2].area, "mm") == "–"
    assert standing_words(rows[2], "mm") == "off"


def test_rows_are_there_where_nothing_can_be_cut() -> None:
    stack = Stack(board(), StraightRun(9.0), passes=(Pass("unknown", 1.0, 1.0),))
    (row,) = pass_rows(stack, {}, None)
    assert (row.bit, row.area, row.share, row.severity) == (None, None, 0.0, "")


def test_what_else_is_to_be_known_of_a_pass() -> None:
    single = Pass("b", 1.0, 1.0, count=3, pitch=-8.0, begin=60.0, end=940.0, relief=True)
    stack = Stack(board(), StraightRun(1000.0), passes=(single,), tolerance=Tolerance())
    (row,) = pass_rows(stack, {}, None)
    assert standing_words(row, "mm") == "rough out; 3 times, 8 mm apart; from 60 mm to 940 mm"


def test_moments_in_words() -> None:
    stack, bits = stack_of((straight(10.0), 10.0, 2.0), (straight(20.0), 40.0, 5.0))
    assert moment_text(stack, bits, None, "mm") == "When all are cut"
    assert moment_text(stack, bits, 2, "mm") == "When all are cut"
    assert moment_text(stack, bits, 1, "mm") == "After pass 1 of 2: straight 10 mm"
    assert moment_text(stack, bits, 0, "mm") == "The blank, before the first pass"
    empty = replace(stack, passes=())
    assert moment_text(empty, bits, None, "mm") == "The blank; there are no passes"


def test_a_problem_names_its_place_in_plain_words() -> None:
    problem = Problem("pass[3].bit", "no bit is called 'x'", "the id of a bit", "did you mean 'y'?")
    assert problem_text(problem) == (
        "Pass 3, bit: no bit is called 'x'; expected the id of a bit (did you mean 'y'?)"
    )
    assert problem_text(Problem("", "lost its footing")) == "lost its footing"


def test_what_is_not_reached_has_a_place_where_ridges_tell_less() -> None:
    shallow = lines((0, 30), (20, 30), (20, 29.5), (32, 29.5), (32, 30), (60, 30))
    narrow, bits = stack_of((straight(4.0), 26.0, 0.5), target=shallow)
    report = cut_and_judge(narrow, bits)
    comparison = report.comparison
    assert comparison is not None
    # the corners of the groove are 4 from the cut, under half a millimetre of stock
    assert comparison.unreached_max == pytest.approx(4.0)
    assert comparison.leftover.max == pytest.approx(0.5)
    assert unreached_place(report) == comparison.unreached_at
    (leftover,) = [each for each in report.cautions if each.code == "leftover"]
    assert "is 4 mm away from the nearest cut" in leftover.say("mm")
    assert unreached_place(grooved(26.0, 4.0)) is None, "a level floor: the ridge tells all"
    uncut = cut_and_judge(replace(narrow, passes=()), bits)
    assert unreached_place(uncut) is None, "nothing is near where nothing is cut"


def test_minutes_that_are_mostly_sanding_say_so() -> None:
    for depth, word in ((5.0, ""), (1.0, "mostly sanding")):
        report = grooved(26.0, depth)
        minutes = minutes_of(report.cut, report.comparison)
        assert (2.0 * minutes.sanding > minutes.total) == bool(word)
        assert figures_of(report, "mm", minutes)[4].beside == word
