"""Edits of the blank, the run, the setups and the tolerances; the run in plan."""

from __future__ import annotations

import math

import pytest

from profilestack.errors import InputError
from profilestack.geometry.path import Path
from profilestack.session import piece_edits
from profilestack.session.run_plan import run_plan
from profilestack.stack import (
    Blank,
    CurvedRun,
    OutlineStock,
    Pass,
    Rectangle,
    Round,
    Setup,
    Stack,
    StraightRun,
    Tolerance,
    TurnedRun,
)
from tests.shop import board

SETUPS = (Setup("edge", 90.0), Setup("back", 180.0))
PASSES = (Pass("b", 1.0, 1.0), Pass("b", 2.0, 1.0, "edge"), Pass("b", 3.0, 1.0, "edge"))
STACK = Stack(board(60.0, 30.0), StraightRun(1000.0, 3), setups=SETUPS, passes=PASSES)
TRIANGLE = Path((0.0, 0.0)).line((40.0, 0.0)).line((0.0, 25.0)).line((0.0, 0.0))


def test_words_of_the_document() -> None:
    assert piece_edits.with_title(STACK, "  Crown ")[0].title == "Crown"
    inches, label = piece_edits.with_units(STACK, "in")
    assert (inches.units, inches.blank, label) == ("in", STACK.blank, "Change the units")
    assert piece_edits.with_species(STACK, "oak")[0].blank.species == "oak"
    assert piece_edits.with_species(STACK, " ")[0].blank.species is None


def test_the_blank_takes_sizes_and_forms() -> None:
    wide, label = piece_edits.with_blank_size(STACK, "width", 84.0)
    assert (wide.blank.stock, label) == (Rectangle(84.0, 30.0), "Change the blank's width")
    log, label = piece_edits.with_blank_kind(STACK, "round")
    assert (log.blank.stock, label) == (Round(60.0), "Change the blank's form")
    assert piece_edits.with_blank_size(log, "diameter", 50.0)[0].blank.stock == Round(50.0)
    assert piece_edits.with_blank_kind(log, "rectangle")[0].blank.stock == Rectangle(60.0, 60.0)
    assert piece_edits.with_blank_kind(STACK, "rectangle")[0] == STACK
    shaped = Stack(Blank(OutlineStock(TRIANGLE)), StraightRun(1.0))
    assert piece_edits.blank_kind(shaped) == "outline"
    assert piece_edits.with_blank_kind(shaped, "rectangle")[0].blank.stock == Rectangle(40.0, 25.0)
    with pytest.raises(InputError, match="width"):
        piece_edits.with_blank_size(STACK, "width", 0.0)
    with pytest.raises(InputError, match="at most 3000 mm"):
        piece_edits.with_blank_size(STACK, "thickness", 3000.1)
    with pytest.raises(InputError, match="at most 3000 mm"):
        piece_edits.with_blank_size(log, "diameter", 1e6)
    assert piece_edits.with_blank_size(STACK, "width", 3000.0)[0].blank.stock.width == 3000.0


def test_the_run_keeps_its_pieces_through_its_kinds() -> None:
    plain = Stack(board(), StraightRun(9.0, 3))
    for kind, made in (("curved", CurvedRun(900.0, 60.0, 3)), ("turned", TurnedRun(3))):
        done, label = piece_edits.with_run_kind(plain, kind)
        assert (done.run, label) == (made, "Change the run")
        assert piece_edits.with_run_kind(done, "straight")[0].run == StraightRun(2400.0, 3)
    assert piece_edits.with_run_kind(plain, "straight")[0] == plain


def test_numbers_of_the_run() -> None:
    assert piece_edits.with_run_value(STACK, "length", 5.0)[0].run == StraightRun(5.0, 3)
    many, label = piece_edits.with_run_value(STACK, "pieces", 7.0)
    assert (many.run, label) == (StraightRun(1000.0, 7), "Change the number of pieces")
    assert isinstance(many.run.pieces, int)
    with pytest.raises(InputError, match="pieces"):
        piece_edits.with_run_value(STACK, "pieces", 0.0)


def test_a_run_that_its_setups_contradict_is_refused() -> None:
    with pytest.raises(InputError, match="neither on edge nor on a wedge"):
        piece_edits.with_run_kind(STACK, "curved")
    with pytest.raises(InputError, match="face alone"):
        piece_edits.with_run_kind(STACK, "turned")


def test_tolerances() -> None:
    done, label = piece_edits.with_tolerance(STACK, "leftover", 0.2)
    assert done.tolerance == Tolerance(0.2, 0.10)
    assert label == "Change the tolerance of the leftover"
    with pytest.raises(InputError, match="overcut"):
        piece_edits.with_tolerance(STACK, "overcut", -0.1)


def test_setups_are_added_where_the_run_takes_them() -> None:
    bare = Stack(board(), StraightRun(9.0))
    first, label = piece_edits.with_setup_added(bare)
    second, _ = piece_edits.with_setup_added(first)
    third, _ = piece_edits.with_setup_added(second)
    assert third.setups == (Setup("back", 180.0), Setup("edge", 90.0), Setup("edge-2", 90.0))
    assert label == "Add the setup back"
    bow = Stack(board(), CurvedRun(500.0, 90.0))
    for _ in range(2):
        bow, _ = piece_edits.with_setup_added(bow)
    assert [setup.angle for setup in bow.setups] == [180.0, 180.0]
    turned = Stack(board(), TurnedRun())
    assert piece_edits.setup_refusal(turned) == "A turned part is cut from its face alone."
    assert piece_edits.setup_refusal(bare) == ""
    with pytest.raises(InputError):
        piece_edits.with_setup_added(turned)


def test_a_setup_takes_its_passes_along_when_it_is_renamed() -> None:
    done, label = piece_edits.with_setup_name(STACK, 0, " left edge ")
    assert [single.setup for single in done.passes] == ["face", "left edge", "left edge"]
    assert done.setups == (Setup("left edge", 90.0), SETUPS[1])
    assert label == "Rename the setup edge"
    for wrong in ("face", "back", ""):
        with pytest.raises(InputError):
            piece_edits.with_setup_name(STACK, 0, wrong)


def test_values_of_a_setup() -> None:
    tipped, label = piece_edits.with_setup_value(STACK, 0, "angle", 45.0)
    assert (tipped.setups[0], label) == (
        Setup("edge", 45.0),
        "Change the angle of the setup edge",
    )
    assert piece_edits.with_setup_value(STACK, 1, "copies", 16.0)[0].setups[1].copies == 16
    with pytest.raises(InputError, match="copies"):
        piece_edits.with_setup_value(STACK, 1, "copies", 400.0)


def test_a_setup_is_removed_unless_it_is_used() -> None:
    assert piece_edits.setup_users(STACK, "edge") == "passes 2 and 3"
    assert piece_edits.setup_users(STACK, "back") == ""
    done, label = piece_edits.without_setup(STACK, 1)
    assert (done.setups, label) == (SETUPS[:1], "Remove the setup back")
    with pytest.raises(InputError, match="no setup is called 'edge'"):
        piece_edits.without_setup(STACK, 0)


def area(path: Path) -> float:
    return abs(path.signed_area)


def test_the_plan_has_the_part_s_own_area() -> None:
    (strip,) = run_plan(STACK).outlines
    assert area(strip) == pytest.approx(1000.0 * 60.0)
    bow = Stack(board(60.0, 30.0), CurvedRun(500.0, 90.0))
    (sector,) = run_plan(bow).outlines
    assert area(sector) == pytest.approx(math.pi / 4.0 * (560.0**2 - 500.0**2))
    assert sector.is_closed
    ring = Stack(board(60.0, 30.0), CurvedRun(500.0, 360.0))
    inner, outer = run_plan(ring).outlines
    assert area(outer) - area(inner) == pytest.approx(math.pi * (560.0**2 - 500.0**2))
    turned = run_plan(Stack(board(60.0, 30.0), TurnedRun()))
    assert area(turned.outlines[0]) == pytest.approx(60.0 * 2.0 * 30.0)
    assert turned.axis is not None
    assert turned.axis.start[1] == turned.axis.end[1] == 0.0


@pytest.mark.parametrize("angle", [10.0, 180.0, 200.0, 359.0])
def test_a_bow_is_symmetric_about_the_upward_direction(angle: float) -> None:
    (sector,) = run_plan(Stack(board(), CurvedRun(500.0, angle))).outlines
    points = sector.flatten(0.01)
    assert points[:, 0].min() == pytest.approx(-points[:, 0].max(), abs=0.05)
    assert area(sector) == pytest.approx(math.radians(angle) / 2.0 * (560.0**2 - 500.0**2))
