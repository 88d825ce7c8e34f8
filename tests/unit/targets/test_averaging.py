from __future__ import annotations

import numpy as np
import pytest

from profilestack.errors import InputError
from profilestack.geometry.motion import move, turn
from profilestack.geometry.path import Path
from profilestack.targets.averaging import averaged
from profilestack.targets.fitting import FitWishes, fit
from profilestack.targets.tracing import Chain
from tests.unit.targets.profiles import SECTION, STEPPED, farthest, measured, sampled, scattered


def slices(path: Path, count: int, deviation: float) -> list[Chain]:
    """Measurements of one path, each scattered by itself, all but the first shifted and turned."""
    chance = np.random.default_rng(2)
    found = []
    for k in range(count):
        motion = turn(chance.normal(0.0, 0.4), (35.0, 20.0)).then(move(*chance.normal(0.0, 2.0, 2)))
        moved = path if k == 0 else motion.apply_to(path)
        points = scattered(sampled(moved, 0.3), deviation, seed=k)
        if path.is_closed:
            points[-1] = points[0]
        found.append(measured(points))
    return found


def test_slices_are_laid_upon_each_other_and_averaged() -> None:
    mean = averaged(slices(STEPPED, 6, 0.05), 0.1)
    assert mean.chain.measured
    assert mean.rms == pytest.approx(0.05, rel=0.4)
    assert len(mean.moves) == 6
    assert mean.moves[0] == (0.0, 0.0, 0.0)
    fitted = fit(mean.chain, FitWishes(0.12))
    assert fitted.after == 6
    assert farthest(fitted.path.flatten(0.5), STEPPED) < 0.05


def test_the_mean_scatters_less_than_each_slice() -> None:
    several = slices(STEPPED, 6, 0.05)
    one = averaged([several[0], several[0]], 0.1).chain.flatten()
    mean = averaged(several, 0.1).chain.flatten()

    def scatter(points: np.ndarray) -> float:
        near = points[::10]
        return float(np.sqrt(np.mean([farthest(p[None], STEPPED) ** 2 for p in near])))

    # six independent errors: 1/sqrt(6) = 0.41 of one
    assert scatter(mean) < 0.6 * scatter(one)


def test_the_same_slice_twice_is_that_slice() -> None:
    single = slices(STEPPED, 1, 0.0)[0]
    mean = averaged([single, single], 0.02)
    assert mean.spread < 1e-3  # the second is laid upon the smooth path, the first stays
    assert farthest(mean.chain.flatten()[::5], STEPPED) < 2e-3


def test_one_slice_walked_the_other_way_counts_as_well() -> None:
    first, second = slices(STEPPED, 2, 0.0)
    mean = averaged([first, second.reversed()], 0.02)
    assert mean.spread < 2e-3
    assert farthest(mean.chain.flatten()[::5], STEPPED) < 2e-3


def test_turn_and_shift_are_told() -> None:
    first = measured(sampled(STEPPED, 0.3))
    motion = turn(0.7, (35.0, 20.0)).then(move(1.5, -0.5))
    second = measured(sampled(motion.apply_to(STEPPED), 0.3))
    _, (_, _, angle) = averaged([first, second], 0.02).moves
    assert angle == pytest.approx(-0.7, abs=1e-3)


def test_a_closed_section_stays_closed() -> None:
    mean = averaged(slices(SECTION, 3, 0.02), 0.1)
    assert mean.chain.is_closed
    fitted = fit(mean.chain, FitWishes(0.1))
    assert fitted.path.is_closed
    assert abs(fitted.path.signed_area) == pytest.approx(abs(SECTION.signed_area), rel=2e-3)


def test_slices_of_other_things_are_refused() -> None:
    other = Path((0.0, 0.0)).line((3.0, 90.0)).line((200.0, 91.0))
    with pytest.raises(InputError, match="slice 2: shares only"):
        averaged([measured(sampled(STEPPED, 0.3)), measured(sampled(other, 0.3))], 0.05)
