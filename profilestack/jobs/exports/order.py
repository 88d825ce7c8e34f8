"""What is asked of an export, and what came of it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from profilestack.bits.bit import Bit
from profilestack.errors import InputError, Problem
from profilestack.files.exports.dxf import Version
from profilestack.files.exports.layered import Show
from profilestack.files.exports.machine_code import Zero
from profilestack.planning.plan import Plan
from profilestack.planning.shop import USUAL_SHOP, Shop
from profilestack.stack import Stack

MOST_EXTRA = 10_000.0
"""More wood than this beyond an end is a mistake [mm]."""


@dataclass(frozen=True, slots=True)
class ExportOrder:
    """A stack to be written as ``path`` says by its ending.

    ``units`` ("mm" or "in") are those of the file's numbers and words; SVG is always in mm.
    ``libraries`` and ``shop`` are for the plan. ``version``, ``polylines`` and ``show`` are for
    drawings, ``paper`` for the report, ``zero``, ``per_bit`` and ``extra`` (wood beyond each end of
    the part [mm]) for machine code. Files that are there are replaced only with ``force``.

    Raises:
        InputError: an impossible ``extra``.
    """

    stack: Stack
    bits: Mapping[str, Bit]
    path: Path
    units: str
    libraries: tuple[str, ...] = ()
    shop: Shop = USUAL_SHOP
    force: bool = False
    version: Version = "R2010"
    polylines: bool = False
    show: Show = "both"
    paper: str = "A4"
    zero: Zero = "bed"
    per_bit: bool = False
    extra: float = 0.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.extra) and 0.0 <= self.extra <= MOST_EXTRA):
            told = f"{self.extra!r} mm is impossible"
            expected = f"0 to {MOST_EXTRA:g} mm of wood beyond each end"
            raise InputError(Problem("extra", told, expected))


@dataclass(frozen=True, slots=True)
class Made:
    """A file that is ready to be saved, and what it holds in a few words."""

    path: Path
    data: bytes
    about: str


@dataclass(frozen=True, slots=True)
class Making:
    """What one kind makes of an order: ``files``, and the plan where there is one.

    ``is_good``: every tolerance holds and no caution says stop. ``refused`` says why nothing was
    made; the files are none then.
    """

    files: tuple[Made, ...]
    is_good: bool
    plan: Plan | None = None
    refused: str = ""
