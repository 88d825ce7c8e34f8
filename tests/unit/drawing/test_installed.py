import numpy as np
import pytest

from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.drawing.template.installed import (
    installed_view,
    installing_motion,
    sprung_column,
)
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.template import template_sheets
from profilestack.stack import Blank, MemberTarget, Rectangle, Stack, StraightRun
from profilestack.targets.members import Member, MemberColumn
from tests.unit.drawing.examples import example
from tests.unit.drawing.sheets import texts_of


def cornice(spring: float = 45.0, mirror: bool = False) -> Stack:
    """Drop 10 + 12.7 + 6 + 25.4 + 8 = 62.1, projection 7 + 4 + 25.4 + 3 + 12.7 + 3 = 55.1."""
    column = MemberColumn(
        (
            Member("fillet", height=10.0),
            Member("setback", projection=3.0),
            Member("ovolo", height=12.7, projection=12.7),
            Member("setback", projection=3.0),
            Member("fillet", height=6.0),
            Member("cavetto", height=25.4, projection=25.4),
            Member("setback", projection=4.0),
            Member("fillet", height=8.0),
        ),
        lie="sprung",
        spring=spring,
        back=12.0,
        bottom=7.0,
        mirror=mirror,
    )
    width, height = column.box()
    return Stack(
        Blank(Rectangle(width, height)), StraightRun(2400.0), "Cornice", target=MemberTarget(column)
    )


@pytest.mark.parametrize("mirror", [False, True])
@pytest.mark.parametrize("spring", [45.0, 38.0])
def test_the_crown_hangs_as_its_members_were_listed(spring: float, mirror: bool) -> None:
    stack = cornice(spring, mirror)
    assert stack.target is not None
    column = sprung_column(cut_stack(stack, {}))
    assert column is not None
    motion = installing_motion(column)
    points = np.array([motion.apply(tuple(p)) for p in stack.target.path().flatten(1e-3).tolist()])
    points -= (points[:, 0].min(), points[:, 1].max())
    assert np.ptp(points, axis=0) == pytest.approx((55.1, 62.1), abs=1e-6)
    # the top fillet is plumb, furthest from the wall, and hangs from the ceiling
    foremost = points[points[:, 0] > 55.1 - 1e-6]
    assert foremost[:, 1].max() == pytest.approx(0.0, abs=1e-6)
    assert foremost[:, 1].min() == pytest.approx(-10.0, abs=1e-6)
    # the bottom is level and lies at the wall, 7 mm wide
    lowest = points[points[:, 1] < -62.1 + 1e-6]
    assert np.ptp(lowest[:, 0]) == pytest.approx(7.0, abs=1e-6)
    assert lowest[:, 0].min() == pytest.approx(0.0, abs=1e-6)


def test_the_view_tells_drop_projection_and_spring() -> None:
    cut = cut_stack(cornice(), {})
    sheets = template_sheets(cut, compare(cut), (), TemplateOptions())
    texts = [text for sheet in sheets for text in texts_of(sheet)]
    assert {"As installed, 1 : 1", "62.1", "55.1"} <= set(texts)
    assert "spring 45° between back and wall; seen from the left end" in texts


def test_a_mirrored_crown_is_seen_from_the_other_end() -> None:
    cut = cut_stack(cornice(mirror=True), {})
    comparison, column = compare(cut), sprung_column(cut)
    assert comparison is not None
    assert column is not None
    block = installed_view(cut, comparison, column, TemplateOptions())
    assert block.width > 55.1
    assert block.height > 62.1
    said = [mark.text for mark in block.marks if hasattr(mark, "text")]
    assert "spring 45° between back and wall; seen from the right end" in said


def test_other_targets_have_no_installed_view() -> None:
    cut, comparison = example("crown")
    assert sprung_column(cut) is None
    texts = [
        text
        for sheet in template_sheets(cut, comparison, (), TemplateOptions())
        for text in texts_of(sheet)
    ]
    assert not any("installed" in text.lower() for text in texts)
