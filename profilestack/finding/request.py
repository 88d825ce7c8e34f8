"""What the finder is asked."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from profilestack.bits.bit import Bit
from profilestack.errors import InputError, Problem
from profilestack.finding.adapting.adaptation import limit_problem
from profilestack.planning.shop import USUAL_SHOP, Shop
from profilestack.stack import FACE, Setup, Stack

RESOLUTIONS = {"mm": 0.01, "in": 0.0254}
"""Offsets and depths are whole numbers of this [mm], by the document's units."""


@dataclass(frozen=True, slots=True)
class FindRequest:
    """Find passes for ``stack``'s target; its own passes are ignored.

    ``leftover`` and ``overcut`` [mm] bound every option; ``seconds`` is for the proofs of the
    harder objectives, None for as little as makes good answers. With ``adapt`` [mm] the target is
    fitted to the bits first: see :func:`profilestack.finding.adapting.adapt.adapted`.

    Raises:
        InputError: naming everything that is impossible.
    """

    stack: Stack
    bits: tuple[Bit, ...]
    leftover: float
    overcut: float
    resolution: float
    setups: tuple[Setup, ...] = (FACE,)
    most_passes: int | None = None
    most_bits: int | None = None
    seconds: float | None = None
    adapt: float | None = None
    shop: Shop = field(default=USUAL_SHOP)

    def __post_init__(self) -> None:
        found = []
        if self.stack.target is None:
            found.append(Problem("target", "is missing: there is nothing to find", "a [target]"))
        if not self.bits:
            found.append(Problem("bits", "the drawer is empty", "at least one bit"))
        for key, low in (("leftover", 1e-3), ("overcut", 1e-3), ("resolution", 1e-4)):
            value = getattr(self, key)
            if not (math.isfinite(value) and low <= value <= 10.0):
                text = f"{value!r} is impossible"
                found.append(Problem(key, text, f"{low:g} to 10 mm"))
        for key in ("most_passes", "most_bits"):
            value = getattr(self, key)
            if value is not None and value < 1:
                found.append(Problem(key, f"{value!r} is impossible", "1 or more"))
        if self.seconds is not None and not (0.0 < self.seconds < 86_400.0):
            found.append(
                Problem("seconds", f"{self.seconds!r} is impossible", "above 0, at most 86,400 s")
            )
        if self.adapt is not None and (problem := limit_problem(self.adapt)):
            found.append(problem)
        if found:
            raise InputError(found)
