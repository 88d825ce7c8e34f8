"""Conge: the shaft's run-out into a fillet."""

from __future__ import annotations

import math
from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path
from profilestack.targets.member_shapes.base import (
    Measures,
    MemberShape,
    arc_between,
    same_length,
    upside_down,
)


class Conge(MemberShape):
    """Straight, then a concave arc of at most a quarter circle (Edinburgh Encyclopaedia,
    "Mouldings"; read): the apophyge of a shaft.

    "quarter" (the usual one): the arc is a quarter circle whose radius is the projection, and
    what is left of the height is straight. "flat": no straight part; the arc takes the whole
    height, R = (h^2 + p^2) / (2 p), upright where it leaves the shaft (computed).
    """

    word: ClassVar[str] = "conge"
    about: ClassVar[str] = (
        "Straight, then a concave quarter circle as large as the projection "
        '("flat": one flatter arc over the whole height).'
    )
    source: ClassVar[str] = 'Edinburgh Encyclopaedia, "Mouldings" (read)'
    variants: ClassVar[tuple[str, ...]] = ("quarter", "flat")
    samples: ClassVar[tuple[Measures, ...]] = (
        Measures(height=18.0, projection=-9.0, variant="quarter"),
        Measures(height=18.0, projection=-9.0, variant="flat"),
    )

    def problems(self, given: Measures) -> list[Problem]:
        """The arc is a quarter circle at most: the height is the projection's size at least."""
        out = abs(given.out)
        if out == 0.0:
            return [Problem("projection", "0 leaves no curve", "a length above or below 0")]
        if out > given.tall and not same_length(out, given.tall):
            text = f"{given.tall!r} is less than the projection: more than a quarter circle"
            return [Problem("height", text, f"{out:g} at least")]
        return []

    def trace(self, given: Measures) -> Path:
        """Walked from the flaring end along the arc, then straight: a crown's way."""
        out, tall = abs(given.out), given.tall
        if given.variant == "flat" or same_length(out, tall):
            radius = math.fsum((tall**2, out**2)) / (2.0 * out)
            path = arc_between((0.0, 0.0), (-out, -tall), radius, "ccw")
        else:
            path = Path((0.0, 0.0)).arc((-out, -out), (0.0, -out), "ccw").line((-out, -tall))
        return path if given.out > 0.0 else upside_down(path)
