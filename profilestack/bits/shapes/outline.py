"""Any other bit, drawn as lines and arcs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.errors import Problem
from profilestack.geometry.crossing import crossings_of
from profilestack.geometry.extent import box_of
from profilestack.geometry.path import SAME_POINT, Path
from profilestack.geometry.trimming import until_height

ON_ZERO = 1e-6
"""The lowest point may lie off h = 0 by so much [mm]: drawings are rounded."""


@dataclass(frozen=True, slots=True)
class Outline(BitShape):
    """The right half of the edge as drawn, (r, h) [mm], from the tip up to its highest point."""

    word: ClassVar[str] = "outline"
    outline: Path

    def __post_init__(self) -> None:
        expected = "the right half, from the tip (h = 0) upward, r >= 0"
        texts = _faults(self.outline)
        refuse([Problem("outline", text, expected) for text in texts])

    def edge(self) -> Path:
        """The outline, led from the axis when it starts beside it."""
        return _led_from_axis(self.outline)

    @property
    def size(self) -> float:
        """The largest diameter drawn [mm]."""
        return 2.0 * box_of(self.outline).right

    def problems_at(self, cutting_length: float) -> list[Problem]:
        """The edge must reach its lowest point before it rises above its own end."""
        text = ""
        if self.outline.start[1] >= cutting_length:
            text = f"{cutting_length:g} mm is below the place where the outline starts"
        elif box_of(until_height(self.edge(), cutting_length)).bottom > ON_ZERO:
            text = f"{cutting_length:g} mm ends the outline before its lowest point"
        return [Problem("cutting_length", text, "a longer one")] if text else []


def _faults(outline: Path) -> Iterator[str]:
    if not outline.steps:
        yield "is a single point"
        return
    box = box_of(outline)
    if box.left < -SAME_POINT:
        yield f"crosses the bit's axis (a radius of {box.left:.4f} mm)"
    if abs(box.bottom) > ON_ZERO:
        yield f"has its lowest point at h = {box.bottom:.4f} mm"
    if box.right <= 0.0 or box.top <= 0.0:
        yield "has no width or no height"
    elif outline.end[1] < box.top - SAME_POINT:
        yield f"ends at h = {outline.end[1]:.4f} mm, below its highest point, {box.top:.4f} mm"
    if any(step.to[0] <= SAME_POINT for step in outline.steps):
        yield "comes back to the bit's axis, so that the bit closes"
    for point in crossings_of(_led_from_axis(outline)):
        yield f"crosses itself at r = {point[0]:.4f}, h = {point[1]:.4f} mm"


def _led_from_axis(outline: Path) -> Path:
    r, h = outline.start
    return outline if r == 0.0 else Path((0.0, h)).line((r, h)).joined(outline)
