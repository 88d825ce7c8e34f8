"""Every caution: a small stack that must raise it, and its neighbour that must not."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass

import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import Dovetail
from profilestack.cutting.caution import CODES, Caution, Severity
from profilestack.jobs.cut import CutReport
from profilestack.stack import CurvedRun, Setup, TurnedRun
from tests.shop import bit, board, codes, judge, lines, roundover, straight

Build = Callable[[], CutReport]
MIDDLE = 30.0
"""Of the 60 x 30 board."""


def in_steps(*depths: float, shank: float) -> CutReport:
    short = straight(6.0, edge=10.0, shank=shank)
    return judge(*[(short, MIDDLE, depth) for depth in depths])


def nut(length: float) -> CutReport:
    return judge((straight(12.0, edge=26.0, length=length, grip=20.0), MIDDLE, 28.0))


def bearing(offset: float, thickness: float = 30.0) -> CutReport:
    single = roundover(6.0, 12.7, edge=8.0, pilot_diameter=12.7, pilot_length=8.0)
    return judge((single, offset, 6.0), blank=board(60.0, thickness))


def gripped(grip: float, shank: float) -> CutReport:
    return judge((straight(12.7, edge=20.0, grip=grip, shank=shank, length=80.0), MIDDLE, 5.0))


def through(depth: float) -> CutReport:
    return judge((straight(12.0), 3.0, depth))


def beside(shift: float) -> CutReport:
    return judge((straight(12.0), MIDDLE, 5.0), (straight(12.0), MIDDLE + shift, 5.0))


DOVETAIL = bit("dovetail", Dovetail(12.7, 14.0), edge=8.0)


def dovetail(**keys: object) -> CutReport:
    return judge((DOVETAIL, MIDDLE, 8.0, keys))


def dovetail_in_a_groove(width: float) -> CutReport:
    return judge((straight(width), MIDDLE, 8.0), (DOVETAIL, MIDDLE, 8.0))


def plunged(offset: float, **keys: object) -> CutReport:
    return judge((straight(12.0, plunges=False), offset, 5.0, keys))


def slots(gap: float) -> CutReport:
    return judge((straight(6.0), 20.0, 15.0), (straight(6.0), 26.0 + gap, 15.0))


def turned_over(left: float, right: float) -> CutReport:
    """The face is planed away but for a strip from ``left`` to ``right``; then the back is cut."""
    planer = straight(60.0)
    return judge(
        (planer, left - 30.0, 2.0), (planer, right + 30.0, 2.0),
        (straight(6.0), MIDDLE, 3.0, {"setup": "back"}), setups=(Setup("back", 180.0),),
    )  # fmt: skip


def on_a_curve(radius: float, offset: float, setup: str = "face") -> CutReport:
    run = CurvedRun(radius, 90.0)
    return judge(
        (straight(30.0), offset, 5.0, {"setup": setup}), run=run, setups=(Setup("back", 180.0),)
    )


def spinning(diameter: float, max_rpm: float | None) -> CutReport:
    return judge((straight(diameter, max_rpm=max_rpm), MIDDLE, 5.0))


def planed_to(level: float) -> CutReport:
    """The target is flat, 25 mm above the bed; tolerances 0.30 and 0.10."""
    return judge((straight(70.0), MIDDLE, 30.0 - level), target=lines((0.0, 25.0), (60.0, 25.0)))


def groove(depth: float) -> CutReport:
    return judge((straight(12.0), MIDDLE, depth))


@dataclass(frozen=True)
class Pair:
    """``raising`` must give the caution for ``number`` with ``severity``; ``quiet`` must not."""

    code: str
    severity: Severity
    number: int | None
    raising: Build
    quiet: Build


of = functools.partial
PAIRS = (
    Pair("shank-rubs", "stop", 1, of(in_steps, 15.0, shank=5.0), of(in_steps, 10.0, shank=5.0)),
    Pair("shank-rubs", "stop", 1, of(in_steps, 15.0, shank=12.7), of(in_steps, 9.0, shank=12.7)),
    # the stock above is gone, but the shank is wider than the groove
    Pair("shank-rubs", "stop", 2, of(in_steps, 10.0, 15.0, shank=12.7),
         of(in_steps, 10.0, 15.0, shank=5.0)),
    Pair("too-deep", "stop", 1, of(in_steps, 15.0, shank=5.0),
         of(in_steps, 10.0, 15.0, shank=5.0)),
    # the shank runs clear in a narrower groove: in and out at the ends only
    Pair("too-deep", "warn", 2,
         lambda: judge((straight(8.0), MIDDLE, 15.0), (DOVETAIL, MIDDLE, 15.0)),
         lambda: judge((straight(14.0), MIDDLE, 15.0), (DOVETAIL, MIDDLE, 15.0))),
    Pair("too-deep", "stop", 2,
         lambda: judge((straight(8.0), MIDDLE, 15.0),
                       (DOVETAIL, MIDDLE, 15.0, {"begin": 100.0, "end": 900.0})),
         lambda: judge((straight(14.0), MIDDLE, 15.0),
                       (DOVETAIL, MIDDLE, 15.0, {"begin": 100.0, "end": 900.0}))),
    Pair("nut-rubs", "stop", 1, of(nut, 50.0), of(nut, 52.0)),
    Pair("pilot-rubs", "stop", 1, of(bearing, MIDDLE), of(bearing, 60.0 + 6.35)),
    # beside the board, but through the bed
    Pair("pilot-rubs", "stop", 1, of(bearing, 66.35, 13.0), of(bearing, 66.35, 14.0)),
    Pair("short-grip", "warn", 1, of(gripped, 18.0, 6.35), of(gripped, 19.0, 6.35)),
    Pair("short-grip", "warn", 1, of(gripped, 24.0, 12.7), of(gripped, 25.0, 12.7)),
    # the edge would be in the collet
    Pair("short-grip", "stop", 1, of(gripped, 60.0, 12.7), of(gripped, 50.0, 12.7)),
    Pair("into-bed", "stop", 1, of(through, 30.5), of(through, 30.0)),
    Pair("into-bed", "note", 1, of(through, 30.3), of(through, 29.9)),
    Pair("cuts-nothing", "note", 2, of(beside, 0.0), of(beside, 0.01)),
    Pair("cuts-nothing", "note", 1, lambda: judge((straight(12.0), 70.0, 5.0)),
         lambda: judge((straight(12.0), 65.9, 5.0))),
    Pair("enter-from-end", "warn", 1, dovetail, of(groove, 8.0)),
    Pair("enter-from-end", "warn", 1, of(dovetail, begin=100.0), of(groove, 8.0)),
    Pair("enter-from-end", "stop", 1, of(dovetail, begin=100.0, end=900.0),
         of(dovetail, begin=100.0, end=1000.0)),
    Pair("enter-from-end", "warn", 2, of(dovetail_in_a_groove, 8.0),
         of(dovetail_in_a_groove, 13.0)),
    Pair("cannot-plunge", "stop", 1, of(plunged, MIDDLE, begin=100.0, end=900.0),
         of(plunged, MIDDLE, begin=100.0)),
    Pair("cannot-plunge", "stop", 1, of(plunged, 6.0, begin=100.0, end=900.0),
         of(plunged, 5.9, begin=100.0, end=900.0)),
    Pair("cannot-plunge", "stop", 1,
         lambda: judge((straight(12.0, plunges=False), MIDDLE, 5.0), run=TurnedRun()),
         lambda: judge((straight(12.0), MIDDLE, 5.0), run=TurnedRun())),
    Pair("piece-loose", "warn", 1, of(groove, 30.0), of(groove, 29.9)),
    Pair("piece-loose", "note", 1,
         # a sliver of 0.03 x 30 mm at the right side
         lambda: judge((straight(6.0), 56.97, 30.0)),
         lambda: judge((straight(6.0), 57.1, 30.0))),
    Pair("thin-fin", "warn", None, of(slots, 1.0), of(slots, 4.0)),
    Pair("rests-on-points", "warn", 3, of(turned_over, 28.5, 31.5), of(turned_over, 26.0, 34.0)),
    # a strip that is wide enough but not under the part's middle
    Pair("rests-on-points", "warn", 3, of(turned_over, 2.0, 14.0), of(turned_over, 20.0, 32.0)),
    Pair("curve-too-tight", "stop", 1, of(on_a_curve, 5.0, 9.0), of(on_a_curve, 7.0, 9.0)),
    # turned over the offset runs from the other side: 60 - 50 = 10 from the curve's inside
    Pair("curve-too-tight", "stop", 1, of(on_a_curve, 4.0, 50.0, "back"),
         of(on_a_curve, 4.0, 40.0, "back")),
    Pair("too-fast", "warn", 1, of(spinning, 50.8, 22_000.0), of(spinning, 12.7, 24_000.0)),
    Pair("too-fast", "note", 1, of(spinning, 50.8, None), of(spinning, 12.7, None)),
    Pair("too-fast", "note", 1, of(spinning, 50.8, 16_000.0), of(spinning, 25.4, None)),
    Pair("overcut", "stop", 1, of(planed_to, 24.89), of(planed_to, 24.91)),
    Pair("leftover", "warn", None, of(planed_to, 25.31), of(planed_to, 25.29)),
    Pair("too-thin", "warn", 1, of(groove, 23.0), of(groove, 21.9)),
    Pair("too-thin", "stop", 1, of(groove, 27.5), of(groove, 21.9)),
    Pair("section-weak", "warn", None, of(groove, 28.5), of(groove, 26.0)),
)  # fmt: skip


def found_by(pair: Pair) -> list[Caution]:
    return [single for single in pair.raising().cautions if single.code == pair.code]


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.code)
def test_the_caution_is_raised(pair: Pair) -> None:
    found = found_by(pair)
    assert (pair.severity, pair.number) in [(one.severity, one.number) for one in found], found


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.code)
def test_its_neighbour_is_quiet(pair: Pair) -> None:
    again = [one for one in pair.quiet().cautions if one.code == pair.code]
    assert [one for one in again if one.severity == pair.severity] == []


def test_every_code_has_a_pair() -> None:
    assert {pair.code for pair in PAIRS} == set(CODES)


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.code)
def test_the_words_are_whole_in_both_units(pair: Pair) -> None:
    for caution in found_by(pair):
        for units, mark in (("mm", " mm"), ("in", "in")):
            text = caution.say(units)
            assert "{" not in text
            assert text[0].isupper()
            assert text.endswith(".")
            assert (mark in text) or not caution.lengths


def test_the_gravest_come_first_then_in_the_order_of_the_passes() -> None:
    report = judge(
        (straight(50.8), MIDDLE, 3.0), (straight(12.0), MIDDLE, 3.0), (straight(6.0), 10.0, 31.0)
    )
    rank = {"stop": 0, "warn": 1, "note": 2}
    order = [(rank[one.severity], one.number or 0) for one in report.cautions]
    assert order == sorted(order)
    assert len({severity for severity, _ in order}) >= 2


def test_a_plain_shallow_cut_raises_nothing() -> None:
    assert codes(judge((straight(12.0), MIDDLE, 5.0))) == set()


def test_what_is_about_the_bit_is_said_once() -> None:
    wide: Bit = straight(50.8)
    report = judge((wide, 20.0, 3.0), (wide, 40.0, 3.0))
    assert [one.number for one in report.cautions if one.code == "too-fast"] == [1]


def test_a_stop_makes_the_stack_not_good() -> None:
    assert groove(5.0).is_good
    assert not through(31.0).is_good
    assert not planed_to(24.89).is_good
    assert not planed_to(25.31).is_good
    assert planed_to(25.0).is_good
