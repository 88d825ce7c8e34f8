"""Bits in files: ``[[bit]]`` of a stack and of a library.

The keys of a shape are the fields of its class in the table of shapes: lengths, unless the class
says that they are angles. A new shape needs no change here.
"""

from __future__ import annotations

from dataclasses import MISSING, Field, fields
from functools import cache
from typing import Any

from profilestack.bits import Bit, BitShape
from profilestack.bits.shapes import SHAPES
from profilestack.files.kinds import ANGLE, FLAG, LENGTH, NUMBER, TEXT, WHOLE, Word
from profilestack.files.path_keys import Drawn
from profilestack.files.reading import Key, Kind, Reading, Table, build, keys_elsewhere, read_keys
from profilestack.files.writing import write_keys

SHAPE_KEY = Key("shape", Word(tuple(SHAPES)), required=True)

BIT_KEYS = (
    Key("id", TEXT, required=True),
    Key("name", TEXT),
    Key("cutting_length", LENGTH, required=True),
    Key("shank", LENGTH, required=True),
    Key("length", LENGTH, required=True, sample=1000.0),
    Key("flutes", WHOLE),
    Key("max_rpm", NUMBER),
    Key("plunges", FLAG),
    Key("grip", LENGTH),
    Key("pilot_diameter", LENGTH),
    Key("pilot_length", LENGTH),
    Key("measured", LENGTH),
    Key("price", NUMBER),
    Key("note", TEXT),
)


@cache
def shape_keys(word: str) -> tuple[Key, ...]:
    """The keys of the shape of that word, made from the fields of its class."""
    shape = SHAPES[word]
    return tuple(
        Key(
            field.name,
            _kind_of(field, shape),
            required=field.default is MISSING and field.default_factory is MISSING,
        )
        for field in fields(shape)  # type: ignore[arg-type]  # every shape is a dataclass
    )


def read_bit(reading: Reading, where: str, table: Table) -> Bit | None:
    """The bit of one table, or None after telling what is wrong."""
    word = table.get("shape")
    shape = SHAPES.get(word) if isinstance(word, str) else None
    own = shape_keys(shape.word) if shape else ()
    variants = {each: shape_keys(each) for each in SHAPES}
    elsewhere = keys_elsewhere(variants, shape.word if shape else None)
    values = read_keys(reading, where, table, (SHAPE_KEY, *BIT_KEYS, *own), elsewhere)
    made = build(reading, values.only(own), own, shape) if shape else None
    if made is None:
        # the bit is checked all the same, but nobody knows how wide it is
        made = _stand_in_shape()
        values.wrong.add("measured")
    rest = values.only(BIT_KEYS)
    rest.good["shape"] = made
    return build(reading, rest, BIT_KEYS, Bit)


def stand_in_bit(where: str, table: Table) -> Bit:
    """Keeps the place and the id of a bit that could not be read, while the rest is checked."""
    word = table.get("id")
    named = word if isinstance(word, str) and word else where
    return Bit(named, _stand_in_shape(), cutting_length=1.0, shank=1.0, length=1000.0)


def _stand_in_shape() -> BitShape:
    return SHAPES["straight"](diameter=1.0)  # type: ignore[call-arg]  # its own field


def bit_table(bit: Bit, units: str) -> Table:
    """A bit as a table; what is as usual is left out."""
    table = write_keys(bit, BIT_KEYS, units)
    if bit.name == bit.id:
        table.pop("name", None)
    shape = {"shape": bit.shape.word, **write_keys(bit.shape, shape_keys(bit.shape.word), units)}
    lead = {key: table.pop(key) for key in ("id", "name") if key in table}
    return lead | shape | table


def _kind_of(field: Field[Any], shape: type[BitShape]) -> Kind:
    """The kind of a shape's field, by the words of its annotation."""
    name = str(field.type).removesuffix(" | None")
    if name == "float":
        return ANGLE if field.name in shape.angle_keys else LENGTH
    kinds: dict[str, Kind] = {"int": WHOLE, "bool": FLAG, "str": TEXT, "Path": Drawn()}
    return kinds[name]
