"""Whether any part of the blank is seen."""

from __future__ import annotations

import pytest

from profilestack.geometry.path import Path
from profilestack.session.sight import is_blank_in_sight
from profilestack.stack import Blank, OutlineStock, Rectangle, Round

ANGLE = Path((0.0, 0.0)).line((40.0, 0.0)).line((0.0, 40.0)).line((0.0, 0.0))
"""A triangle."""


@pytest.mark.parametrize(
    ("stock", "low", "high", "is_seen"),
    [
        (Rectangle(80.0, 40.0), (-10.0, -10.0), (1.0, 1.0), True),
        (Rectangle(80.0, 40.0), (20.0, 10.0), (21.0, 11.0), True),
        (Rectangle(80.0, 40.0), (-10.0, -10.0), (-1.0, 50.0), False),
        (Rectangle(80.0, 40.0), (0.0, 41.0), (80.0, 90.0), False),
        (Round(60.0), (0.0, 0.0), (8.0, 8.0), False),
        (Round(60.0), (0.0, 0.0), (10.0, 10.0), True),
        (OutlineStock(ANGLE), (30.0, 30.0), (40.0, 40.0), False),
        (OutlineStock(ANGLE), (0.0, 0.0), (1.0, 1.0), True),
        (OutlineStock(ANGLE), (41.0, 0.0), (60.0, 40.0), False),
    ],
)
def test_the_blank_itself_is_looked_for_not_its_box(
    stock: Rectangle | Round | OutlineStock,
    low: tuple[float, float],
    high: tuple[float, float],
    is_seen: bool,
) -> None:
    assert is_blank_in_sight(Blank(stock), low, high) is is_seen
