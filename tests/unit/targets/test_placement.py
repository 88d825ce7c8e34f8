from __future__ import annotations

import math

import numpy as np
import pytest

from profilestack.errors import InputError
from profilestack.geometry.path import Path
from profilestack.targets.placement import place

PATH = Path((0.0, 5.0)).line((4.0, 5.0)).arc((9.0, 0.0), (4.0, 0.0), "cw")


def ends(path: Path) -> list[tuple[float, float]]:
    return [path.start, path.end]


def test_left_alone_it_stays() -> None:
    assert place(PATH) == PATH


def test_moved() -> None:
    assert ends(place(PATH, at=(2.0, 3.0))) == [(2.0, 8.0), (11.0, 3.0)]


def test_scaled_and_turned_about_its_own_origin_then_moved() -> None:
    placed = place(PATH, at=(100.0, 0.0), scale=2.0, rotation=90.0)
    assert ends(placed) == [(90.0, 0.0), (100.0, 18.0)]


def test_mirrored_inside_its_own_box_and_walked_the_other_way() -> None:
    placed = place(PATH, mirror=True)
    assert ends(placed) == [(0.0, 0.0), (9.0, 5.0)]
    # the wood stays on the right hand: the round still turns clockwise
    assert [getattr(step, "turn", "") for step in placed.steps] == ["cw", ""]


def test_mirrored_twice_is_nothing() -> None:
    again = place(place(PATH, mirror=True), mirror=True)
    np.testing.assert_allclose(again.flatten(0.01), PATH.flatten(0.01), atol=1e-12)


def test_every_problem_is_named() -> None:
    with pytest.raises(InputError) as caught:
        place(PATH, at=(math.inf, 0.0), scale=-1.0, rotation=math.nan)
    assert [problem.where for problem in caught.value.problems] == ["at", "scale", "rotation"]
