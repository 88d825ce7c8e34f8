import math

import pytest

from profilestack.cutting.cut import cut_stack
from profilestack.drawing.axes import axes_near, axes_of
from profilestack.drawing.balloons import BALLOON, balloons_of
from profilestack.drawing.placing import Placing
from profilestack.stack import Blank, Pass, Rectangle, Setup, Stack, StraightRun
from tests.unit.drawing.examples import BITS, EXAMPLES, example

FULL = Placing(0.0, 0.0)
BACK = Placing(100.0, 0.0, -1.0, 1.0)


@pytest.mark.parametrize("label", [0.0, 14.0])
@pytest.mark.parametrize("placing", [FULL, BACK], ids=["left", "right"])
@pytest.mark.parametrize("name", EXAMPLES)
def test_balloons_do_not_meet(name: str, placing: Placing, label: float) -> None:
    cut, _ = example(name)
    balloons = balloons_of(axes_near(cut), placing, label)
    assert sorted(balloon.number for balloon in balloons) == [each.number for each in cut.passes]
    for place, balloon in enumerate(balloons):
        for other in balloons[:place]:
            assert math.dist(balloon.middle, other.middle) > 2.0 * BALLOON


def test_an_axis_runs_from_the_tip_to_the_top_of_the_blank_as_it_lies() -> None:
    (axis,) = axes_of(cut_stack(one("edge", 90.0, offset=10.0, depth=5.0), BITS))
    # the right side is up: the axis comes in level, 10 below the old top
    assert axis.tip == pytest.approx((60.0 - 5.0, 30.0 - 10.0))
    assert axis.direction == pytest.approx((1.0, 0.0))
    assert axis.mouth == pytest.approx((60.0, 20.0))


def one(setup: str, angle: float, offset: float, depth: float) -> Stack:
    return Stack(
        Blank(Rectangle(60.0, 30.0)),
        StraightRun(1000.0),
        setups=(Setup(setup, angle),),
        passes=(Pass("straight 12.7", offset, depth, setup=setup),),
    )


def test_a_balloon_stands_over_its_own_axis_when_there_is_room() -> None:
    cut = cut_stack(one("back", 180.0, offset=10.0, depth=5.0), BITS)
    (balloon,) = balloons_of(axes_near(cut), FULL)
    assert balloon.way == pytest.approx((0.0, -1.0))
    assert balloon.middle[0] == pytest.approx(50.0)
    assert balloon.middle[1] < -BALLOON


def test_flutes_are_numbered_once() -> None:
    cut, _ = example("column")
    assert len(axes_of(cut)) == 16
    assert sum(axis.leads for axis in axes_of(cut)) == 1


def test_axes_far_off_are_left_out_and_the_next_one_leads() -> None:
    far = Pass("straight 12.7", -500.0, 5.0, count=3, pitch=520.0)
    stack = Stack(Blank(Rectangle(60.0, 30.0)), StraightRun(1000.0), passes=(far,))
    (axis,) = axes_near(cut_stack(stack, BITS))
    assert axis.tip == pytest.approx((20.0, 25.0))
    assert axis.leads
