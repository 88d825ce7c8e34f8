"""Quirk: a narrow groove that parts two members."""

from __future__ import annotations

from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path, Point
from profilestack.targets.member_shapes.base import Measures, MemberShape


class Quirk(MemberShape):
    """A groove of its own width, along the wall, and depth, from its upper edge into the wood.

    "square": two level sides and a flat bottom; "v": two sides that meet in the middle; "round":
    a half round at the bottom. With a projection the lower edge is moved like any member's lower
    end: as deep as the groove, and the lower side is gone, because a bead's own round takes its
    place (a flush bead and its quirk; common practice, from memory).
    """

    word: ClassVar[str] = "quirk"
    about: ClassVar[str] = "A narrow groove of its own width and depth; square unless told."
    source: ClassVar[str] = "common practice, from memory"
    required: ClassVar[frozenset[str]] = frozenset({"width", "depth"})
    optional: ClassVar[frozenset[str]] = frozenset({"projection"})
    variants: ClassVar[tuple[str, ...]] = ("square", "v", "round")
    samples: ClassVar[tuple[Measures, ...]] = (
        Measures(width=4.0, depth=6.0, variant="square"),
        Measures(width=6.0, depth=6.0, variant="v"),
        Measures(width=5.0, depth=6.0, variant="round"),
        Measures(width=4.0, depth=6.0, projection=6.0, variant="square"),
    )

    def problems(self, given: Measures) -> list[Problem]:
        """The groove is as deep as its lower end at least, a round one as half its width."""
        width, depth = sizes(given)
        if given.variant == "round":
            if depth < width / 2.0:
                text = f"{depth!r} is too shallow for a round bottom of width {width:g}"
                return [Problem("depth", text, f"{width / 2.0:g} at least")]
            depth -= width / 2.0
        if given.out > depth:
            text = f"{given.out!r} moves the lower edge beyond the groove's bottom"
            return [Problem("projection", text, f"at most {depth:g}")]
        return []

    def trace(self, given: Measures) -> Path:
        """Into the wood, and out again."""
        width, depth = sizes(given)
        start, end = Path((0.0, 0.0)), Path((-given.out, -width))
        if given.variant == "v":
            return start.line((-depth, -width / 2.0)).joined(end)
        if given.variant == "round":
            straight = depth - width / 2.0
            middle: Point = (-straight, -width / 2.0)
            bottom = Path((-straight, 0.0)).arc((-straight, -width), middle, "ccw")
            return start.joined(bottom).joined(end)
        return start.line((-depth, 0.0)).line((-depth, -width)).joined(end)

    def fall(self, given: Measures) -> float:
        """The groove's width [mm]."""
        return sizes(given)[0]


def sizes(given: Measures) -> tuple[float, float]:
    """Width and depth [mm]; the member is refused before it comes here without them."""
    return (given.width or 0.0, given.depth or 0.0)
