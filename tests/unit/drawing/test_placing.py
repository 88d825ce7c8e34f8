import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from profilestack.drawing.free_places import Room
from profilestack.drawing.placing import Placing, spread

places = st.lists(st.floats(-100.0, 100.0), min_size=1, max_size=30)


@given(places, st.floats(0.1, 10.0))
def test_spread_places_keep_their_order_and_their_distance(wanted: list[float], gap: float) -> None:
    found = spread(wanted, gap)
    order = sorted(range(len(wanted)), key=lambda k: wanted[k])
    steps = np.diff([found[k] for k in order])
    assert (steps >= gap - 1e-9).all()


@given(places, st.floats(0.1, 10.0))
def test_spreading_moves_the_mean_nowhere(wanted: list[float], gap: float) -> None:
    assert np.mean(spread(wanted, gap)) == pytest.approx(np.mean(wanted), abs=1e-9)


def test_places_with_room_stay() -> None:
    assert spread([30.0, 0.0, 10.0], 5.0) == [30.0, 0.0, 10.0]


def test_two_at_one_place_part_evenly() -> None:
    assert spread([7.0, 7.0], 4.0) == [5.0, 9.0]


def test_a_mirrored_placing_turns_x_about() -> None:
    placing = Placing(100.0, 10.0, -1.02, 0.98)
    assert placing.point((50.0, 20.0)) == pytest.approx((100.0 - 51.0, 10.0 + 19.6))
    assert placing.points(np.array(((50.0, 20.0),)))[0] == pytest.approx((49.0, 29.6))


def test_labels_find_places_that_do_not_meet() -> None:
    room = Room((0.0, 0.0, 60.0, 60.0), np.zeros((0, 2)))
    found = [room.place((30.0, 30.0), 8.0, 3.0, (0.0, 1.0)) for _ in range(12)]
    middles = [place for place in found if place is not None]
    assert len(middles) >= 6
    for place, (x, y) in enumerate(middles):
        assert 4.0 <= x <= 56.0
        assert 1.5 <= y <= 58.5
        for other_x, other_y in middles[:place]:
            assert abs(x - other_x) >= 8.0 or abs(y - other_y) >= 3.0


def test_no_room_is_no_place() -> None:
    room = Room((0.0, 0.0, 60.0, 60.0), np.zeros((0, 2)))
    room.take((30.0, 30.0), 60.0, 60.0)
    assert room.place((30.0, 30.0), 8.0, 3.0, (0.0, 1.0)) is None


def test_a_label_rather_hides_no_outline() -> None:
    level = np.column_stack((np.linspace(0.0, 60.0, 90), np.full(90, 37.0)))
    room = Room((0.0, 0.0, 60.0, 60.0), level)
    place = room.place((30.0, 30.0), 8.0, 3.0, (0.0, 1.0))
    assert place is not None
    assert abs(place[1] - 37.0) > 1.5
