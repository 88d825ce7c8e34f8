"""Sections and removed areas once more, by another polygon engine and an own placement.

pyclipper works on whole numbers by its own algorithm and shares no code with the engine used.
"""

from __future__ import annotations

import math

import numpy as np
import pyclipper
import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.edge import silhouette_path
from profilestack.cutting.cut import CHORD, cut_stack
from profilestack.stack import Stack
from tests.random_stacks import random_stack

GRID = 1e7
"""Whole numbers per mm: rounding moves no edge by more than 0.00000005 mm."""

AGREES = 1e-4
"""Largest difference of an area [mm2]: both engines get the same points, so that only rounding
is left; 0.00002 was the largest seen."""

STACKS = 200
Ring = list[tuple[int, int]]


def turned(points: np.ndarray, degrees: float) -> np.ndarray:
    """Counter-clockwise about the origin."""
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return points @ np.array(((cos, sin), (-sin, cos)))


def to_grid(points: np.ndarray) -> Ring:
    return [(round(x * GRID), round(z * GRID)) for x, z in points.tolist()]


def bit_rings(stack: Stack, number: int, bits: dict[str, Bit], outline: np.ndarray) -> list[Ring]:
    """Where the bit's edge is in the section, for all copies and repeats of a pass."""
    single = stack.passes[number]
    setup = stack.setup(single.setup)
    silhouette = silhouette_path(bits[single.bit]).flatten(CHORD)
    lying = turned(outline, setup.angle)
    left, top = lying[:, 0].min(), lying[:, 1].max()
    middle = (outline.min(axis=0) + outline.max(axis=0)) / 2
    rings = []
    for repeat in range(single.count):
        tip = np.array((left + single.offset + repeat * single.pitch, top - single.depth))
        placed = turned(silhouette + tip, -setup.angle)
        for copy in range(setup.copies):
            about = turned(placed - middle, -360.0 * copy / setup.copies) + middle
            rings.append(to_grid(about))
    return rings


def subtract(section: list[Ring], ring: Ring) -> list[Ring]:
    if not section:
        return []
    engine = pyclipper.Pyclipper()
    engine.AddPaths(section, pyclipper.PT_SUBJECT, True)
    engine.AddPath(ring, pyclipper.PT_CLIP, True)
    fill = pyclipper.PFT_NONZERO
    done: list[Ring] = engine.Execute(pyclipper.CT_DIFFERENCE, fill, fill)
    return done


def area_of(section: list[Ring]) -> float:
    """Holes turn the other way and count negative."""
    return float(sum(pyclipper.Area(ring) for ring in section)) / GRID**2


@pytest.mark.parametrize("first", range(0, STACKS, 20))
def test_the_other_engine_gets_the_same_areas(first: int) -> None:
    removed_something = 0
    for seed in range(first, first + 20):
        stack, bits = random_stack(seed)
        cut = cut_stack(stack, bits)
        fine = stack.blank.outline().flatten(1e-7)  # the box of a round blank is the exact one
        section = [to_grid(stack.blank.outline().flatten(CHORD))]
        assert area_of(section) == pytest.approx(cut.blank.area, abs=AGREES)
        for number, single in enumerate(cut.passes):
            before = area_of(section)
            for ring in bit_rings(stack, number, bits, fine):
                section = subtract(section, ring)
            removed = before - area_of(section)
            assert single.removed_area == pytest.approx(removed, abs=AGREES), (seed, number)
            removed_something += removed > 1.0
        assert cut.section.area == pytest.approx(area_of(section), abs=AGREES), seed
    assert removed_something > 20, "the stacks hardly cut anything: nothing was compared"
