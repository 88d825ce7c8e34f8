"""What of the tool besides its edge touches wood or bed, at that moment of the order."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from profilestack.bits.bit import NUT_DIAMETER, NUT_HEIGHT
from profilestack.bits.edge import largest_radius
from profilestack.cutting.caution import Caution, Severity
from profilestack.cutting.cautions.entry import has_open_end
from profilestack.cutting.cut import Cut, PassCut
from profilestack.cutting.stroke import Stroke

TOUCH = 0.01
"""Overlaps narrower than this [mm] are rounding, not rubbing."""

SKIN = 0.4
"""Through cuts go up to this far into the bed on purpose [mm] (common practice)."""


def shank_and_depth(cut: Cut) -> Iterator[Caution]:
    """The shank against standing stock, and an edge that is shorter than its depth."""
    for single in cut.passes:
        edge = single.bit.cutting_length
        deep = [
            k for k in range(single.first, single.last)
            if cut.strokes[k].tip + edge < cut.strokes[k].lie.height - TOUCH
        ]  # fmt: skip
        rubs = any(
            _overlap(cut, k, -single.bit.shank / 2, single.bit.shank / 2, edge, single.bit.reach)
            for k in deep
        )
        radius = max(largest_radius(single.bit), single.bit.shank / 2)
        covered = any(
            _overlap(cut, k, -radius, radius, edge, cut.strokes[k].lie.height - cut.strokes[k].tip)
            for k in deep
        )
        if rubs:
            yield Caution("shank-rubs", "stop", single.number, _SHANK, (single.bit.shank, edge))
        if covered:
            grave = rubs or not has_open_end(cut, cut.strokes[single.first])
            words = _DEEP if grave else _DEEP_BUT_CLEAR
            lengths = (edge, single.cut.depth)
            severity: Severity = "stop" if grave else "warn"
            yield Caution("too-deep", severity, single.number, words, lengths)


_SHANK = (
    "The {0} shank rubs stock that still stands beside or above the {1} edge: rough out that "
    "stock first, or take a bit with a longer edge or a thinner shank."
)
_DEEP = (
    "The edge is {0} long, the cut {1} deep, and the stock above the edge is not yet gone: "
    "rough it out first, or take a longer bit."
)
_DEEP_BUT_CLEAR = (
    "The edge is {0} long, the cut {1} deep, and stock stays above the edge beside the shank: "
    "enter and leave at the ends, never lift the bit out on the way."
)


def nut(
    cut: Cut, diameter: float = NUT_DIAMETER, height: float = NUT_HEIGHT, known: bool = False
) -> Iterator[Caution]:
    """The collet nut against standing stock; its size is a guess unless it is ``known``."""
    for single in cut.passes:
        reach = single.bit.reach
        for k in range(single.first, single.last):
            stroke = cut.strokes[k]
            if stroke.tip + reach >= stroke.lie.height - TOUCH:
                continue
            half = diameter / 2.0
            if _overlap(cut, k, -half, half, reach, reach + height):
                lengths = (diameter, reach, single.bit.grip)
                words = _KNOWN_NUT if known else _NUT
                yield Caution("nut-rubs", "stop", single.number, words, lengths)
                break


_NUT = (
    "The collet nut (guessed {0} across, {1} above the tip at a grip of {2}) runs into standing "
    "stock: rough that stock out first, or take a longer bit; measure your own nut."
)

_KNOWN_NUT = (
    "The collet nut ({0} across, {1} above the tip at a grip of {2}) runs into standing stock: "
    "rough that stock out first, or take a longer bit."
)


def pilot(cut: Cut) -> Iterator[Caution]:
    """A bearing, or the stub left of it, that would have to go through wood or bed."""
    for single in cut.passes:
        bit = single.bit
        if bit.pilot_diameter is None or bit.pilot_length is None:
            continue
        half, low = bit.pilot_diameter / 2.0, -bit.pilot_length
        for k in range(single.first, single.last):
            if cut.strokes[k].tip + low < -SKIN or _overlap(cut, k, -half, half, low, 0.0):
                lengths = (bit.pilot_diameter, bit.pilot_length)
                yield Caution("pilot-rubs", "stop", single.number, _PILOT, lengths)
                break


_PILOT = (
    "The bearing ({0} across, {1} below the edge) would have to go through wood or bed, and it "
    "does not cut: take a bit without one, or clear its way first."
)


def bed(cut: Cut) -> Iterator[Caution]:
    """The tip against what the blank lies on."""
    for single in cut.passes:
        under = -min(stroke.tip for stroke in _strokes(cut, single))
        if under > SKIN:
            yield Caution("into-bed", "stop", single.number, _BED, (under, SKIN))
        elif under > 1e-6:
            yield Caution("into-bed", "note", single.number, _SKIN, (under,))


_BED = (
    "The tip goes {0} into the bed; through cuts need {1} at most: raise the bit, or raise the "
    "blank on a board that may be cut."
)
_SKIN = "The tip goes {0} into the bed, as a through cut should: lay a board under the blank."


def _strokes(cut: Cut, single: PassCut) -> tuple[Stroke, ...]:
    return cut.strokes[single.first : single.last]


def _overlap(cut: Cut, index: int, left: float, right: float, low: float, high: float) -> bool:
    """Whether a box about the bit's axis and tip reaches into the stock after a stroke.

    The box [mm] is drawn in by ``TOUCH`` on all sides.
    """
    left, right, low, high = left + TOUCH, right - TOUCH, low + TOUCH, high - TOUCH
    if right <= left or high <= low:
        return False
    corners = np.array(((left, low), (right, low), (right, high), (left, high)))
    box = shapely.polygons(cut.strokes[index].to_section(corners))
    return bool(shapely.intersects(cut.sections[index + 1], box))
