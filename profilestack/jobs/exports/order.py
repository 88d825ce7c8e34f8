"""What is asked of an export, and what came of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from profilestack.bits.bit import Bit
from profilestack.files.exports.dxf import Version
from profilestack.files.exports.layered import Show
from profilestack.files.exports.machine_code import Zero
from profilestack.planning.plan import Plan
from profilestack.planning.shop import USUAL_SHOP, Shop
from profilestack.stack import Stack


@dataclass(frozen=True, slots=True)
class ExportOrder:
    """A stack to be written as ``path`` says by its ending.

    ``units`` ("mm" or "in") are those of the file's numbers and words; SVG is always in mm.
    ``libraries`` and ``shop`` are for the plan. ``version``, ``polylines`` and ``show`` are for
    drawings, ``paper`` for the report, ``zero`` and ``per_bit`` for machine code. Files that are
    there are replaced only with ``force``.
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
