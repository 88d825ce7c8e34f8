import numpy as np
import pytest

from profilestack.drawing.hatching import hatch_lines

SQUARE = np.array(((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)))
HOLE = np.array(((2.0, 2.0), (2.0, 8.0), (8.0, 8.0), (8.0, 2.0)))


def total(chains: tuple[np.ndarray, ...]) -> float:
    return sum(float(np.hypot(*(chain[1] - chain[0]))) for chain in chains)


@pytest.mark.parametrize("angle", [0.0, 90.0, 45.0, -45.0, 20.0, -70.0])
def test_the_lines_cover_the_area_evenly(angle: float) -> None:
    spacing = 0.02
    # one line more or less at either side
    slack = 2.0 * 10.0 * 2.0**0.5 * spacing
    covered = total(hatch_lines((SQUARE,), angle, spacing)) * spacing
    assert covered == pytest.approx(100.0, abs=slack)


@pytest.mark.parametrize("angle", [0.0, 45.0, 70.0])
def test_a_hole_is_left_bare(angle: float) -> None:
    chains = hatch_lines((SQUARE, HOLE), angle, 0.02)
    assert total(chains) * 0.02 == pytest.approx(100.0 - 36.0, abs=1.2)
    middles = np.array([(chain[0] + chain[1]) / 2.0 for chain in chains])
    inside = ((middles > 2.001) & (middles < 7.999)).all(axis=1)
    assert not inside.any()


def test_lines_of_one_hatch_run_on_in_the_neighbour() -> None:
    shifted = SQUARE + np.array((10.0, 0.0))
    first, second = (hatch_lines((ring,), 0.0, 3.0) for ring in (SQUARE, shifted))
    assert [chain[0][1] for chain in first] == [chain[0][1] for chain in second]


def test_a_hatch_too_fine_to_see_is_left_out() -> None:
    assert hatch_lines((SQUARE * 1e4,), 0.0, 0.01) == ()
