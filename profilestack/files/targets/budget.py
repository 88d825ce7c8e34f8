"""How much a drawing may show: looked at chain by chain, before anything is made of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from profilestack.errors import InputError, Problem
from profilestack.files.targets.wishes import FARTHEST, MOST_NUMBERS
from profilestack.geometry.path import Arc
from profilestack.targets.tracing import FINE, Chain, Curve, Piece

MOST_ARC_POINTS = 2_000_000
"""All arcs together may need so many points when they are looked at closely; an arc needs about
its sweep times sqrt(radius / (8 x chord error))."""


@dataclass(slots=True)
class Budget:
    """What a drawing has shown so far."""

    numbers: int = 0
    arc_points: float = 0.0

    def add(self, chain: Chain, where: str) -> None:
        """Count one chain [mm]; ``where`` names it in messages.

        Raises:
            InputError: it reaches too far, is not finite, or the drawing has become too large.
        """
        for piece in chain.pieces:
            if not _reach(piece) <= FARTHEST:
                told = f"reaches beyond {FARTHEST:g} mm, or is not finite"
                raise InputError(Problem(where, told, "a profile of a size that fits a shop"))
            if isinstance(piece, Arc):
                self.arc_points += abs(piece.sweep) * math.sqrt(piece.radius / (8.0 * FINE))
        self.numbers += 2 * (chain.count + 1)
        if self.numbers > MOST_NUMBERS or self.arc_points > MOST_ARC_POINTS:
            told = f"shows more than {MOST_NUMBERS} coordinates"
            if self.numbers <= MOST_NUMBERS:
                told = "shows too many arcs of too large radii"
            hint = "choose its layer, or save it alone; are the units right?"
            raise InputError(Problem("", told, "one profile", hint))


def _reach(piece: Piece) -> float:
    """The largest coordinate or radius of a piece; not a number where one is none."""
    if isinstance(piece, Curve):
        return float(np.abs(piece.points).max())
    numbers = [*piece.start, *piece.end]
    if isinstance(piece, Arc):
        numbers += [*piece.center, piece.radius]
    largest = max(abs(number) for number in numbers)
    return largest if all(map(math.isfinite, numbers)) else math.nan
