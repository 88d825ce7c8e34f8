"""What a user says about a foreign file, and how much of one is read at most."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, fields
from typing import Any, Literal

from profilestack.errors import InputError, Problem
from profilestack.files.targets.picture_scale import scale_problems
from profilestack.units import MILLIMETRES

MOST_BYTES = 20 * 2**20
"""A larger file is not looked at."""

MOST_ELEMENTS = 20_000
"""A drawing may have so many lines, arcs and curves once all its copies are counted."""

MOST_NUMBERS = 200_000
"""So many coordinates may come out of a file."""

DEEPEST = 64
"""Groups, blocks and copies may be nested so deep."""

FARTHEST = 1e6
"""No coordinate and no radius may be larger [mm]."""

Order = Literal["file", "x", "nearest"]
Trace = Literal["edge", "line"]


@dataclass(frozen=True, slots=True)
class PictureWishes:
    """How a picture is read.

    One of ``dpi`` (dots per inch), ``across`` (width of the outline [mm]) or ``points`` (two
    places in pixels from the upper left, x right and y down) with ``distance`` [mm] between them
    gives the scale. ``threshold``, 0 black to 255 white, parts wood from ground; None: where the
    tones part best. ``trace``: the "edge" of what is dark, or the middle of a drawn "line".
    ``light``: what is traced is lighter than its ground. ``smooth``: blur [pixels] before.
    """

    dpi: float | None = None
    across: float | None = None
    points: tuple[float, float, float, float] | None = None
    distance: float | None = None
    threshold: float | None = None
    trace: Trace = "edge"
    light: bool = False
    smooth: float = 0.0


@dataclass(frozen=True, slots=True)
class ReadingWishes:
    """How a foreign file is read.

    ``units`` ("mm" or "in") are those of its numbers where it does not say, or says wrongly.
    ``layers``: only these (names; all when empty). ``columns``: the two of a table, by name or
    number from 1. ``order`` of measured points: as in the "file", by "x", or each "nearest" next.

    Raises:
        InputError: a value out of range.
    """

    units: str | None = None
    layers: tuple[str, ...] = ()
    columns: tuple[str, str] | None = None
    order: Order = "file"
    picture: PictureWishes = field(default_factory=PictureWishes)

    def __post_init__(self) -> None:
        found = []
        if self.units is not None and self.units not in MILLIMETRES:
            found.append(Problem("units", f"{self.units!r} is unknown", '"mm" or "in"'))
        if self.order not in ("file", "x", "nearest"):
            expected = '"file", "x" or "nearest"'
            found.append(Problem("order", f"{self.order!r} is unknown", expected))
        found += _picture_problems(self.picture)
        if found:
            raise InputError(found)


def to_plain(wishes: ReadingWishes) -> dict[str, Any]:
    """The wishes as plain values, for another process."""
    plain = {key.name: getattr(wishes, key.name) for key in fields(wishes)}
    picture = wishes.picture
    plain["picture"] = {key.name: getattr(picture, key.name) for key in fields(picture)}
    return plain


def from_plain(plain: dict[str, Any]) -> ReadingWishes:
    """The wishes from plain values, lists for tuples."""
    picture: dict[str, Any] = {
        k: tuple(v) if isinstance(v, list) else v for k, v in plain["picture"].items()
    }
    rest: dict[str, Any] = {
        k: tuple(v) if isinstance(v, list) else v for k, v in plain.items() if k != "picture"
    }
    return ReadingWishes(**rest, picture=PictureWishes(**picture))


def _picture_problems(picture: PictureWishes) -> list[Problem]:
    found = []
    for key, low, high, expected in (
        ("dpi", 1.0, 20_000.0, "1 to 20000 dots per inch"),
        ("across", 1e-3, FARTHEST, "a length above 0"),
        ("threshold", 0.0, 255.0, "0 (black) to 255 (white)"),
        ("smooth", 0.0, 50.0, "0 to 50 pixels"),
    ):
        value = getattr(picture, key)
        if value is not None and not (math.isfinite(value) and low <= value <= high):
            found.append(Problem(key, f"{value!r} is impossible", expected))
    if (picture.points is None) != (picture.distance is None):
        expected = "two points and the distance between them"
        found.append(Problem("points", "one of points and distance is missing", expected))
    elif picture.points is not None and picture.distance is not None:
        found += scale_problems(picture.points, picture.distance)
    given = [k for k in ("dpi", "across", "points") if getattr(picture, k) is not None]
    if len(given) > 1:
        text = f"{' and '.join(given)} are given: two scales"
        found.append(Problem("dpi", text, "one of dpi, across, points"))
    if picture.trace not in ("edge", "line"):
        found.append(Problem("trace", f"{picture.trace!r} is unknown", '"edge" or "line"'))
    return found
