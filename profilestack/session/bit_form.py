"""The form of a bit: its keys as a file has them, and the bit that filled-in keys make.

What is filled in is a table as in a library file, lengths in mm. A new shape needs a word for each
key that no other shape has, and nothing else.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import SHAPES
from profilestack.bits.words import short_size
from profilestack.errors import InputError
from profilestack.files.bit_keys import BIT_KEYS, read_bit, shape_keys
from profilestack.files.kinds import ANGLE, FLAG, LENGTH, NUMBER, TEXT, WHOLE
from profilestack.files.path_keys import path_table
from profilestack.files.reading import Key, Kind, Reading
from profilestack.geometry.path import Path

Filled = dict[str, Any]
"""Keys of a bit and what is filled in, lengths in mm; a key without a value is absent."""

Sort = Literal["length", "angle", "number", "whole", "flag", "text", "outline"]

_SORTS: tuple[tuple[Kind, Sort], ...] = (
    (LENGTH, "length"), (ANGLE, "angle"), (WHOLE, "whole"), (FLAG, "flag"), (TEXT, "text"),
    (NUMBER, "number"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FormKey:
    """One line of the form: its key, label, what it means, and the unit of a plain number.

    ``when_empty`` says what holds where nothing is filled in.
    """

    word: str
    sort: Sort
    label: str
    about: str = ""
    unit: str = ""
    required: bool = False
    when_empty: str = ""


_SAID: dict[str, tuple[str, str]] = {
    "id": ("Short name", "How passes call the bit; small letters, digits and hyphens are usual."),
    "name": ("Name", "As it is written on the bit or its box."),
    "cutting_length": ("Cutting length", "From the tip to the end of the edge."),
    "shank": ("Shank", "Diameter of the shank."),
    "length": ("Overall length", "From the tip to the end of the shank."),
    "flutes": ("Flutes", "How many edges it has."),
    "max_rpm": ("Top speed", "As marked on the bit."),
    "plunges": ("Plunges", "Whether it may be let down into the wood."),
    "grip": ("Grip", "Length of the shank that the collet holds."),
    "pilot_diameter": ("Bearing diameter", "Of a bearing below the edge."),
    "pilot_length": ("Bearing hangs", "How far the bearing hangs below the edge."),
    "measured": ("Measured diameter", "Its own largest diameter, worn or ground."),
    "price": ("Price", "In your own money."),
    "note": ("Note", "Anything worth knowing of it."),
    "diameter": ("Diameter", "The largest diameter that cuts."),
    "radius": ("Radius", "Radius of the arc."),
    "cove_radius": ("Hollow radius", "Radius of the hollow that it leaves in the bit's edge."),
    "round_radius": ("Round radius", "Radius of the other arc."),
    "tip": ("Flat at the tip", "Diameter of the flat at the tip; 0 for a sharp point."),
    "angle": ("Angle", "Of one side, from the bit's axis."),
    "outline": ("Outline", "The right half of the edge, from the tip upward, from a DXF or SVG."),
}
_SAID_OF: dict[tuple[str, str], tuple[str, str]] = {
    ("v-groove", "angle"): ("Angle", "Of the groove: both sides together."),
    ("bullnose", "tip"): ("Waist", "Diameter of the bit at its waist."),
    ("dovetail", "diameter"): ("Diameter", "At the tip, where it is widest."),
    ("taper-ball", "radius"): ("Tip radius", "Radius of the ball at the tip."),
    ("taper-ball", "diameter"): ("Largest diameter", "Where the taper ends."),
    ("ogee", "cove_radius"): ("Lower radius", "Of the arc at the tip, hollow in the bit's edge."),
    ("ogee", "round_radius"): ("Upper radius", "Of the arc above it."),
    ("reverse-ogee", "cove_radius"): ("Upper radius", "Of the arc above the one at the tip."),
    ("reverse-ogee", "round_radius"): ("Lower radius", "Of the arc at the tip."),
}
_UNITS = {"max_rpm": "rpm"}
_EMPTY = {
    "name": "as the short name", "grip": "20 mm", "max_rpm": "not marked", "measured": "as new",
    "pilot_diameter": "no bearing", "pilot_length": "no bearing", "price": "not known",
    "flutes": "2", "tip": "0",
}  # fmt: skip

NAMES = ("id", "name")
"""Keys that stand before those of the shape."""

STARTS: dict[str, Filled] = {
    "straight": {"diameter": 12.7},
    "core-box": {"diameter": 12.7},
    "v-groove": {"diameter": 12.7, "angle": 90.0, "tip": 0.5},
    "cove": {"radius": 6.35, "tip": 3.175},
    "roundover": {"radius": 6.35, "tip": 3.175},
    "ogee": {"cove_radius": 4.0, "round_radius": 4.0, "tip": 3.175},
    "reverse-ogee": {"cove_radius": 4.0, "round_radius": 4.0, "tip": 3.175},
    "bullnose": {"radius": 6.35, "tip": 6.35},
    "dovetail": {"diameter": 12.7, "angle": 14.0},
    "taper-ball": {"radius": 1.5, "angle": 5.0, "diameter": 6.0},
}
"""A usual bit of each shape, to begin a form with; a shape without one begins empty."""


def form_keys(shape: str) -> tuple[FormKey, ...]:
    """The lines of the form for a bit of that shape, in their order."""
    names = [key for key in BIT_KEYS if key.word in NAMES]
    others = [key for key in BIT_KEYS if key.word not in NAMES]
    return tuple(_form_key(shape, key) for key in (*names, *shape_keys(shape), *others))


def new_bit(shape: str, units: str) -> Filled:
    """What the form of a new bit begins with."""
    shank = 12.7 if units == "in" else 12.0
    usual = {"cutting_length": 20.0, "shank": shank, "length": 65.0, "flutes": 2, "plunges": True}
    return {"shape": shape, **STARTS.get(shape, {}), **usual}


def filled_from(bit: Bit) -> Filled:
    """What the form of a known bit begins with."""
    filled: Filled = {"shape": bit.shape.word}
    for key in form_keys(bit.shape.word):
        owner = bit if hasattr(bit, key.word) else bit.shape
        value = getattr(owner, key.word)
        if isinstance(value, Path):
            value = path_table(value, "mm")
        if value not in (None, ""):
            filled[key.word] = value
    if bit.name == bit.id:
        del filled["name"]
    return filled


def with_shape(filled: Filled, shape: str) -> Filled:
    """The same form for another shape: what both have stays, the rest begins as usual."""
    shared = {key.word for key in form_keys(shape)}
    kept = {word: value for word, value in filled.items() if word in shared}
    return {**STARTS.get(shape, {}), **kept, "shape": shape}


def suggested_id(filled: Filled, units: str) -> str:
    """A short name after shape and size, as "core-box-1-2in"; "" while the bit is impossible."""
    try:
        bit = bit_of({"id": "x", **{k: v for k, v in filled.items() if k not in NAMES}})
    except InputError:
        return ""
    return re.sub(r"[^a-z0-9.]+", "-", f"{bit.shape.word} {short_size(bit, units)}".lower()).strip(
        "-"
    )


def bit_of(filled: Mapping[str, Any]) -> Bit:
    """The bit that a filled-in form means.

    Raises:
        InputError: every problem, each at its key.
    """
    reading = Reading()
    bit = read_bit(reading, "", dict(filled))
    if reading.problems or bit is None:
        raise InputError(reading.problems)
    return bit


def _form_key(shape: str, key: Key) -> FormKey:
    label, about = _SAID_OF.get((shape, key.word)) or _SAID.get(key.word) or (_worded(key.word), "")
    unit = _UNITS.get(key.word, "")
    empty = "" if key.required else _EMPTY.get(key.word, "")
    return FormKey(key.word, _sort(key.kind), label, about, unit, key.required, empty)


def _sort(kind: Kind) -> Sort:
    return next((sort for known, sort in _SORTS if kind == known), "outline")


def _worded(word: str) -> str:
    return word.replace("_", " ").capitalize()


assert set(STARTS) <= set(SHAPES), "a start for a shape that there is not"
