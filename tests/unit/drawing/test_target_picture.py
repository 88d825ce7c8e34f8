from __future__ import annotations

import numpy as np
import pytest

from profilestack.cutting.wanted import wanted_in
from profilestack.drawing.drawing import Drawing, Lines, Words
from profilestack.drawing.palette import TARGET_PEN
from profilestack.drawing.picture import picture_bytes
from profilestack.drawing.target_picture import OFF_PEN, TRACED_PEN, Fitting, target_picture
from profilestack.geometry.motion import grow, move
from profilestack.geometry.path import Points
from profilestack.stack import Blank, PathTarget, Rectangle, Stack, StraightRun
from tests.unit.drawing.sheets import assert_all_on_paper, overlapping_words
from tests.unit.targets.profiles import STEPPED, sampled, scattered

PLACED = move(0.0, 3.0).apply_to(STEPPED)


def fitting(traced: Points, largest: float = 0.02) -> Fitting:
    target = PathTarget(PLACED)
    stack = Stack(Blank(Rectangle(70.0, 48.0)), StraightRun(1000.0), "Crown", target=target)
    wood = wanted_in(stack.blank, target, 0.001).region
    return Fitting(stack, traced, PLACED, wood, 300, 6, largest, 0.05)


def said(drawing: Drawing) -> set[str]:
    return {mark.text for mark in drawing.marks if isinstance(mark, Words)}


def lines(drawing: Drawing, pen: object) -> list[Points]:
    return [
        chain
        for mark in drawing.marks
        if isinstance(mark, Lines) and mark.pen == pen
        for chain in mark.chains
    ]


def test_the_figures_are_told_in_words() -> None:
    texts = said(target_picture(fitting(sampled(PLACED, 0.3)), "mm"))
    assert "Crown: wanted profile" in texts
    assert "6 pieces (3 straight, 3 round) for 300 traced" in texts
    assert "✓ off by 0.020 of 0.050 mm" in texts
    assert {"70", "48", "R 20", "R 10"} <= texts


def test_too_much_is_told_by_sign_and_word() -> None:
    texts = said(target_picture(fitting(sampled(PLACED, 0.3), 0.07), "mm"))
    assert "✗ off by 0.070 of 0.050 mm, too much" in texts


def test_inches() -> None:
    texts = said(target_picture(fitting(sampled(PLACED, 0.3)), "in"))
    assert "lengths in inches" in texts
    assert "✓ off by 0.0008 of 0.0020 in" in texts


def test_tracing_and_path_are_drawn_at_one_scale() -> None:
    drawing = target_picture(fitting(sampled(PLACED, 0.3)), "mm")
    path, key = lines(drawing, TARGET_PEN)
    traced, _ = lines(drawing, TRACED_PEN)
    assert len(key) == 2
    assert np.ptp(path, axis=0) == pytest.approx(np.ptp(traced, axis=0), rel=1e-6)
    wide, tall = np.ptp(path, axis=0)
    assert wide / tall == pytest.approx(70.0 / 40.0)
    assert path.min() >= 0.0
    assert path[:, 0].max() <= drawing.width
    assert path[:, 1].max() <= drawing.height


def test_the_strip_shows_the_deviation_with_its_sign() -> None:
    """Points 0.04 mm above the level fillet at the end, at the right of the strip."""
    traced = sampled(PLACED, 0.3)
    traced[traced[:, 0] > 61.0, 1] += 0.04
    (curve,) = lines(target_picture(fitting(traced), "mm"), OFF_PEN)
    zero = float(np.median(curve[:, 1]))
    lifted = curve[curve[:, 0] > curve[:, 0].max() - 5.0]
    assert lifted[:, 1].min() > zero + 1.0
    assert curve[:, 1].min() >= zero - 0.1


def test_a_hundred_thousand_points_are_thinned_but_keep_their_peaks() -> None:
    traced = scattered(sampled(PLACED, 0.001), 0.002)
    traced[50_000] += np.array((0.0, 0.3))
    (curve,) = lines(target_picture(fitting(traced, 0.3), "mm"), OFF_PEN)
    assert len(curve) <= 4000
    assert np.ptp(curve[:, 1]) > 10.0 * float(np.std(curve[:, 1]))


@pytest.mark.parametrize(
    ("kind", "mark"), [("png", b"\x89PNG"), ("svg", b"<?xml"), ("pdf", b"%PDF")]
)
def test_every_kind_of_picture(kind: str, mark: bytes) -> None:
    drawing = target_picture(fitting(sampled(PLACED, 0.3)), "mm")
    data = picture_bytes(drawing, kind)  # type: ignore[arg-type]  # the parameters' words
    assert data.startswith(mark)
    assert data == picture_bytes(drawing, kind)  # type: ignore[arg-type]


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("scale", [0.2, 1.0, 6.0])
def test_everything_is_on_the_paper_and_no_words_meet(scale: float, units: str) -> None:
    path = grow(scale).apply_to(PLACED)
    blank = Blank(Rectangle(70.0 * scale, 48.0 * scale))
    title = "A very long title of a crown molding in the reading room, upper part, " * 2
    target = PathTarget(path)
    stack = Stack(blank, StraightRun(1000.0), title, target=target)
    wood = wanted_in(blank, target, 0.001).region
    picture = target_picture(
        Fitting(stack, sampled(path, 0.3 * scale), path, wood, 300, 6, 0.02, 0.05), units
    )
    assert_all_on_paper(picture)
    assert overlapping_words(picture) == []
