"""Two marks on a picture, A and B, that give its scale once the length between them is known."""

from __future__ import annotations

from dataclasses import dataclass, replace

from profilestack.files.targets.picture_scale import (
    TwoPlaces,
    pixels_between,
    scale_by_points,
    scale_problems,
)
from profilestack.geometry.path import Point
from profilestack.units import MILLIMETRES, format_length

LETTERS = ("A", "B")

DIGITS = 1
"""Decimals of a pixel that a mark's place is given with: no hand is finer."""

BEGIN = "Click on one end of something long whose length you know, then on its other end."
GO_ON = "Now click on the other end."


@dataclass(frozen=True, slots=True)
class Marks:
    """Where the marks lie [pixels from the upper left, x right and y down]; None: not placed."""

    a: Point | None = None
    b: Point | None = None

    @property
    def places(self) -> tuple[Point | None, Point | None]:
        """Both places, A's first."""
        return (self.a, self.b)

    @property
    def points(self) -> TwoPlaces | None:
        """Both places as a reader takes them; None until both are placed."""
        return None if self.a is None or self.b is None else (*self.a, *self.b)

    @property
    def next_free(self) -> int | None:
        """The first mark that is not placed: 0 for A, 1 for B."""
        return next((k for k, place in enumerate(self.places) if place is None), None)

    def put(self, which: int, place: Point | None, size: tuple[int, int]) -> Marks:
        """One mark put at a place, kept inside a picture of that size; None takes it away."""
        if place is not None:
            x, y = (
                round(min(max(0.0, value), float(most)), DIGITS)
                for value, most in zip(place, size, strict=True)
            )
            place = (x, y)
        return replace(self, a=place) if which == 0 else replace(self, b=place)


def length_label(marks: Marks, distance: float | None, units: str) -> str:
    """What stands at the line between the marks: its true length, or else its pixels."""
    if marks.points is None:
        return ""
    if distance is None:
        return f"{pixels_between(marks.points):.1f} pixels"
    return format_length(distance, units)


def scale_words(marks: Marks, distance: float | None, units: str) -> str:
    """What the marks say of the scale, or what is to be done next."""
    points = marks.points
    if points is None:
        return BEGIN if marks.a is None and marks.b is None else GO_ON
    apart = f"A to B: {pixels_between(points):.1f} pixels"
    if distance is None:
        return f"{apart}. Give the true distance between them."
    if scale_problems(points, distance):
        return f"{apart}."
    scale = scale_by_points(points, distance)
    dots = float(MILLIMETRES["in"]) / scale
    length = format_length(distance, units)
    pixel = format_length(scale, units, 1e-4 if units == "mm" else 1e-5)
    return f"{apart} are {length}, so a pixel is {pixel}: {dots:.4g} dots per inch."
