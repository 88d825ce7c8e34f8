"""A target typed as lines and arcs fitted to a drawer."""

from __future__ import annotations

import math
from pathlib import Path as FilePath

import pytest

from profilestack.finding.adapting.adapt import adapted
from profilestack.geometry.path import Arc, Path, Segment
from profilestack.stack import Blank, FileTarget, PathTarget, Rectangle, Stack, StraightRun
from tests.unit.finding.fitting import DRAWER, board_with, extent


def pieces_of(stack: Stack) -> tuple[Segment, ...]:
    assert isinstance(stack.target, PathTarget)
    return stack.target.typed.segments


def radii_of(stack: Stack) -> list[float]:
    return [round(piece.radius, 6) for piece in pieces_of(stack) if isinstance(piece, Arc)]


def round_edge(radius: float) -> Path:
    """A board's step of 20 with a round of ``radius`` between a level line and an upright one."""
    path = Path((0.0, 40.0)).line((30.0 - radius, 40.0))
    path = path.arc((30.0, 40.0 - radius), (30.0 - radius, 40.0 - radius), "cw")
    return path.line((30.0, 20.0)).line((60.0, 20.0))


def test_the_lines_beside_a_round_take_up_the_slack() -> None:
    stack = board_with(round_edge(12.5), 60.0, 40.0)
    fitted = adapted(stack, DRAWER, 1.0)
    assert radii_of(fitted.stack) == [12.7]
    assert [(c.number, c.name, c.key, c.fitted) for c in fitted.changes] == [
        (1, "line", "length", pytest.approx(30.0 - 12.7)),
        (2, "arc", "radius", pytest.approx(12.7)),
        (3, "line", "length", pytest.approx(20.0 - 12.7)),
    ]
    assert {c.slack_of for c in fitted.changes if c.name == "line"} == {(2,)}
    assert [c.bit for c in fitted.changes] == [None, "roundover 12.7", None]
    assert extent(fitted.stack) == pytest.approx(extent(stack), abs=1e-9)


def test_a_hollow_is_told_from_a_round() -> None:
    """A hollow of 5.8 may become 6; the round of 6.2 has to as well."""
    path = Path((0.0, 30.0)).line((10.0, 30.0)).line((10.0, 27.0))
    path = path.arc((15.8, 21.2), (15.8, 27.0), "ccw").line((25.8, 21.2))
    path = path.arc((32.0, 15.0), (25.8, 15.0), "cw").line((32.0, 10.0)).line((50.0, 10.0))
    fitted = adapted(board_with(path, 50.0, 30.0), DRAWER, 1.0)
    assert radii_of(fitted.stack) == [6.0, 6.0]
    assert [c.bit for c in fitted.changes if c.name == "arc"] == ["core-box 12", "roundover 6"]


@pytest.mark.parametrize("reverse", [False, True])
def test_in_a_closed_target_whichever_way_it_is_walked(reverse: bool) -> None:
    path = Path((0.0, 0.0)).line((60.0, 0.0)).line((60.0, 20.0)).line((30.0, 20.0))
    path = path.line((30.0, 27.5)).arc((17.5, 40.0), (17.5, 27.5), "ccw")
    path = path.line((0.0, 40.0)).line((0.0, 0.0))
    stack = board_with(path.reversed() if reverse else path, 60.0, 40.0, closed=True)
    fitted = adapted(stack, DRAWER, 1.0)
    assert radii_of(fitted.stack) == [12.7]
    assert [c.bit for c in fitted.changes if c.name == "arc"] == ["roundover 12.7"]


def test_sloping_lines_keep_their_slope() -> None:
    """A round of 60 degrees between a level line and one that falls at 60."""
    sine, cosine = math.sin(math.radians(60.0)), math.cos(math.radians(60.0))
    center, radius = (20.0, 27.5), 12.5
    turned = (center[0] + radius * sine, center[1] + radius * cosine)
    foot = (turned[0] + 15.0 * cosine, turned[1] - 15.0 * sine)
    path = Path((0.0, 40.0)).line((20.0, 40.0)).arc(turned, center, "cw").line(foot)
    path = path.line((60.0, foot[1]))
    fitted = adapted(board_with(path, 60.0, 40.0), DRAWER, 1.0)
    assert radii_of(fitted.stack) == [12.7]
    slope = pieces_of(fitted.stack)[2]
    run, fall = slope.end[0] - slope.start[0], slope.start[1] - slope.end[1]
    assert math.degrees(math.atan2(fall, run)) == pytest.approx(60.0)
    assert slope.end == pytest.approx(foot)


def test_a_half_round_shares_its_slack_between_both_lines() -> None:
    path = Path((0.0, 30.0)).line((20.0, 30.0)).arc((31.6, 30.0), (25.8, 30.0), "ccw")
    path = path.line((60.0, 30.0))
    fitted = adapted(board_with(path, 60.0, 30.0), DRAWER, 1.0)
    # deeper by 0.2: the extent of the target is not kept
    assert fitted.changes == ()
    deeper = path.line((60.0, 20.0)).line((80.0, 20.0))
    fitted = adapted(board_with(deeper, 80.0, 30.0), DRAWER, 1.0)
    assert radii_of(fitted.stack) == [6.0]
    assert [c.fitted for c in fitted.changes if c.name == "line"] == pytest.approx([19.8, 28.2])


def test_two_tangent_arcs_of_one_radius_move_together() -> None:
    path = Path((0.0, 40.0)).line((10.0, 40.0))
    path = path.arc((22.5, 27.5), (22.5, 40.0), "ccw").arc((35.0, 15.0), (22.5, 15.0), "cw")
    path = path.line((35.0, 10.0)).line((60.0, 10.0))
    fitted = adapted(board_with(path, 60.0, 40.0), DRAWER, 1.0)
    assert radii_of(fitted.stack) == [12.7, 12.7]


@pytest.mark.parametrize(("radius", "limit"), [(12.5, 0.1), (11.0, 5.0), (19.0, 5.0)])
def test_what_is_too_far_stays(radius: float, limit: float) -> None:
    stack = board_with(round_edge(radius), 60.0, 40.0)
    fitted = adapted(stack, DRAWER, limit)
    assert fitted.stack == stack
    (why,) = fitted.unfitted
    nearest = "the nearest is 12.7 mm, roundover 12.7"
    assert why.say("mm") == f"no bit has a round of radius {radius:g} mm or near enough; {nearest}"


def test_no_line_shrinks_below_1() -> None:
    path = Path((0.0, 40.0)).line((30.0 - 12.5, 40.0))
    path = path.arc((30.0, 27.5), (17.5, 27.5), "cw").line((30.0, 26.4)).line((60.0, 26.4))
    stack = board_with(path, 60.0, 40.0)
    fitted = adapted(stack, DRAWER, 1.0)
    assert fitted.stack == stack
    (why,) = fitted.unfitted
    assert why.say("mm").endswith("radius 12.5 mm, and no line can take up the slack")


def test_a_target_from_a_file_becomes_typed_when_it_is_fitted() -> None:
    target = FileTarget("round.csv", round_edge(12.5), str(FilePath.cwd()))
    stack = Stack(Blank(Rectangle(60.0, 40.0)), StraightRun(1.0), target=target)
    fitted = adapted(stack, DRAWER, 1.0)
    assert radii_of(fitted.stack) == [12.7]
    assert fitted.drawn == target.path()


def test_a_target_that_does_not_fit_its_blank_is_left_for_the_finder_to_refuse() -> None:
    stack = board_with(round_edge(12.5), 65.0, 40.0)  # its end lies 5 inside the blank
    assert adapted(stack, DRAWER, 1.0).stack == stack
