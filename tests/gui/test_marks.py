"""Heights written on the section: clear of each other, each joined to its own ridge."""

from __future__ import annotations

import pytest
import shapely

from profilestack.desktop.section.in_sight import Box, Spot
from profilestack.desktop.section.marks import SHORT, free_place

SIZE = (60.0, 18.0)
SIDES = (50.0, 700.0)


def box_of(box: Box) -> shapely.Polygon:
    return shapely.box(*box)


def placed_at(crest: Spot, taken: list[Box]) -> tuple[Spot, Box]:
    found = free_place((crest[0], crest[1] + 10.0), crest, SIZE, SIDES, taken)
    assert found is not None
    return found


@pytest.mark.parametrize("x", [52.0, 300.0, 699.0])
def test_a_leader_meets_its_text_inside_the_view(x: float) -> None:
    end, box = placed_at((x, 200.0), [])
    assert SIDES[0] <= box[0] <= box[2] <= SIDES[1]
    assert shapely.Point(end).distance(box_of(box).exterior) == pytest.approx(0.0)
    # beside an edge of the view the text is moved, and its leader with it
    assert shapely.Point(end).distance(shapely.Point(x, 200.0)) <= SHORT + 1e-9


def test_texts_keep_clear_of_each_other_and_of_leaders() -> None:
    taken: list[Box] = []
    for number in range(6):
        crest = (300.0 + 30.0 * number, 200.0)
        end, box = placed_at(crest, taken)
        way = shapely.LineString((crest, end))
        for other in taken:
            assert not box_of(box).intersects(box_of(other).buffer(-1e-6))
            if way.length > SHORT:
                inside = way.intersection(box_of(other).buffer(-1.0)).length
                assert inside < 0.3 * way.length, "at most its corner is cut"
        taken.append(box)


def test_where_no_place_is_free_nothing_is_written() -> None:
    everywhere = [(0.0, 0.0, 1000.0, 1000.0)]
    assert free_place((300.0, 210.0), (300.0, 200.0), SIZE, SIDES, everywhere) is None
