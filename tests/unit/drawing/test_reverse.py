import math

import pytest
import shapely

from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.reverse import BODY_HEIGHT, Reverse, reverse_of
from profilestack.drawing.template.template import template_sheets
from profilestack.geometry.path import Path
from profilestack.stack import Blank, PathTarget, Rectangle, Stack, StraightRun
from tests.shop import lines
from tests.unit.drawing.examples import example
from tests.unit.drawing.sheets import texts_of


@pytest.mark.parametrize("clearance", [0.0, 0.2, 1.0])
@pytest.mark.parametrize("name", ["crown", "base", "stairs"])
def test_the_reverse_keeps_its_clearance(name: str, clearance: float) -> None:
    cut, comparison = example(name)
    assert comparison is not None
    reverse = reverse_of(cut, comparison, clearance)
    assert shapely.distance(reverse.region, comparison.wanted) == pytest.approx(
        clearance, abs=0.002
    )
    # in a square inside corner the two moved faces meet at sqrt 2 times the clearance
    samples = shapely.points(comparison.samples)
    within = shapely.distance(samples, cut.blank.boundary) > clearance + 0.001
    far = shapely.distance(samples[within], reverse.region)
    assert far.min() >= clearance - 0.002
    assert far.max() <= math.sqrt(2.0) * clearance + 0.002


def reverse_in_board(target: PathTarget, clearance: float) -> Reverse:
    stack = Stack(Blank(Rectangle(50.0, 20.0)), StraightRun(100.0), target=target)
    cut = cut_stack(stack, {})
    return reverse_of(cut, compare(cut), clearance)


def test_the_reverse_of_a_flat_is_a_plain_block() -> None:
    reverse = reverse_in_board(lines((0.0, 15.0), (50.0, 15.0)), 0.5)
    assert reverse.region.area == pytest.approx(50.0 * (20.0 + BODY_HEIGHT - 15.0 - 0.5), abs=1e-6)
    assert reverse.lifts


def test_the_reverse_of_a_hollow_is_a_smaller_round() -> None:
    path = Path((0.0, 20.0)).line((15.0, 20.0))
    path = path.arc((35.0, 20.0), (25.0, 20.0), "ccw").line((50.0, 20.0))
    region = reverse_in_board(PathTarget(path), 1.0).region
    below = region.intersection(shapely.box(0.0, 0.0, 50.0, 20.0))
    # the half disc of R 10 becomes one of R 9
    assert below.area == pytest.approx(math.pi * 9.0**2 / 2.0, abs=0.05)
    assert below.bounds == pytest.approx((16.0, 11.0, 34.0, 20.0), abs=0.002)


def test_an_undercut_profile_slides_on_from_the_end() -> None:
    groove = lines((0.0, 20.0), (20.0, 20.0), (14.0, 8.0), (36.0, 8.0), (30.0, 20.0), (50.0, 20.0))
    stack = Stack(Blank(Rectangle(50.0, 20.0)), StraightRun(100.0), target=groove)
    cut = cut_stack(stack, {})
    reverse = reverse_of(cut, compare(cut), 0.2)
    assert not reverse.lifts
    assert reverse.region.bounds[1] == pytest.approx(8.2, abs=1e-6)
    sheets = template_sheets(cut, compare(cut), (), TemplateOptions(reverse=True))
    texts = [text for sheet in sheets for text in texts_of(sheet)]
    assert "seen from the left end; slides on from the end of the part" in texts


def test_without_a_target_the_section_as_cut_is_reversed() -> None:
    cut, comparison = example("turned")
    assert comparison is None
    reverse = reverse_of(cut, None, 0.2)
    assert shapely.distance(reverse.region, cut.section) == pytest.approx(0.2, abs=0.002)


def test_the_reverse_is_asked_for() -> None:
    cut, comparison = example("crown")
    for wanted in (False, True):
        options = TemplateOptions(reverse=wanted, clearance=0.5)
        texts = [
            text
            for sheet in template_sheets(cut, comparison, (), options)
            for text in texts_of(sheet)
        ]
        said = [text for text in texts if "clearance 0.5 mm" in text]
        assert bool(said) == wanted
