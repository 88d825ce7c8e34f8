"""Shop files, ``NAME.shop.toml``: format ``profilestack-shop/1``.

What a file leaves out is usual for its kind of machine; see ``planning/figures.py`` for where the
usual figures come from.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from profilestack.errors import InputError
from profilestack.files.documents import document_from, placed, read_text
from profilestack.files.kinds import LENGTH, NUMBER, TEXT, Word
from profilestack.files.reading import (
    UNREADABLE,
    Key,
    Reading,
    Table,
    as_table,
    as_tables,
    build,
    described,
    read_keys,
)
from profilestack.files.saving import DISK, FileLayer, save_text
from profilestack.files.versions import SHOP
from profilestack.files.writing import document_text, write_keys
from profilestack.planning.machine import KINDS, USUAL_MACHINES, Machine
from profilestack.planning.shop import USUAL_SHOPS, Shop
from profilestack.planning.species import GROUPS, Species
from profilestack.planning.speeds import USUAL_CHIPS, ChipRange
from profilestack.units import MILLIMETRES, file_length

ENDING = ".shop.toml"
"""How the name of a shop file ends."""


@dataclass(frozen=True, slots=True)
class Lengths:
    """A list of lengths [mm]."""

    sample: tuple[float, ...] = (1.0,)
    expected: str = 'a list of lengths, as [6, "1/4 in"]'

    def read(self, reading: Reading, where: str, value: object) -> Any:
        """See :class:`Kind`."""
        if not isinstance(value, list):
            reading.refuse(where, f"is {described(value)}", self.expected)
            return UNREADABLE
        read = [
            LENGTH.read(reading, f"{where}[{number}]", item) for number, item in enumerate(value, 1)
        ]
        return UNREADABLE if UNREADABLE in read else tuple(read)

    def write(self, value: Iterable[float], units: str) -> Any:
        """See :class:`Kind`."""
        return [file_length(number, units) for number in value]


TOP_KEYS = (
    Key("format", TEXT, required=True),
    Key("name", TEXT),
    Key("units", Word(tuple(MILLIMETRES)), required=True),
)

MACHINE_KEYS = (
    Key("kind", Word(tuple(KINDS)), required=True),
    *(Key(word, NUMBER) for word in ("power", "rated_speed", "slowest", "fastest")),
    *(Key(word, LENGTH) for word in ("largest_feed", "acceleration", "rapid")),
    Key("chip_section", NUMBER),
    *(Key(word, LENGTH) for word in ("safe_height", "width", "length", "travel", "clearance")),
    Key("collets", Lengths()),
    *(Key(word, LENGTH) for word in ("nut_diameter", "nut_height")),
    *(Key(word, LENGTH) for word in ("hood_diameter", "hood_height")),
)

MINUTES_KEYS = tuple(
    Key(word, NUMBER)
    for word in (
        "change", "refix", "setup_once", "setup_piece", "wedge", "test", "back",
        "sanding", "sanding_area",
    )
)  # fmt: skip

CUTTING_KEYS = (
    *(Key(word, LENGTH) for word in ("finish_feed", "rough_feed", "allowance")),
    *(Key(word, NUMBER) for word in ("rim_speed", "force", "force_density", "load")),
)

MONEY_KEYS = (Key("rate", NUMBER),)

SHOP_TABLES = {"minutes": MINUTES_KEYS, "cutting": CUTTING_KEYS, "money": MONEY_KEYS}
"""Tables whose keys are fields of the shop itself."""

SPECIES_KEYS = (
    Key("word", TEXT, required=True),
    Key("gravity", NUMBER, required=True),
    Key("group", Word(GROUPS)),
    Key("force", NUMBER),
)

CHIP_KEYS = (
    Key("diameter", LENGTH, required=True),
    Key("group", Word(GROUPS), required=True),
    Key("low", LENGTH, required=True),
    Key("high", LENGTH, required=True, sample=1000.0),
)

TABLES = ("machine", *SHOP_TABLES, "species", "chip")


def read_shop(path: str | os.PathLike[str]) -> Shop:
    """The shop of a file.

    Raises:
        FileError: the file is not there or cannot be read.
        InputError: every problem of the document, each with its key and line.
    """
    return read_shop_text(read_text(path), os.fspath(path))


def read_shop_text(text: str, file: str = "") -> Shop:
    """The shop of a document's text; ``file`` is named in messages.

    Raises:
        InputError: every problem of the document, each with its key and line.
    """
    reading = Reading()
    shop = _shop(reading, document_from(text, SHOP, file))
    if reading.problems or shop is None:
        raise InputError(placed(reading.problems, text, file))
    return shop


def write_shop(
    shop: Shop, path: str | os.PathLike[str], units: str = "mm", layer: FileLayer = DISK
) -> None:
    """Save a shop; the former version is kept beside it as ``.bak`` and survives any failure.

    Raises:
        InputError: the document could not be read again.
        FileError: it could not be saved; the former version is untouched.
    """
    text = shop_text(shop, units)
    read_shop_text(text, os.fspath(path))
    save_text(path, text, layer)


def shop_text(shop: Shop, units: str = "mm") -> str:
    """The document of a shop, its bare numbers in ``units``; what is usual is left out.

    Raises:
        InputError: a text that no file can hold.
    """
    usual = USUAL_SHOPS[shop.machine.kind]
    document: Table = {"format": SHOP.line}
    if shop.name:
        document["name"] = shop.name
    document["units"] = units
    document["machine"] = {
        "kind": shop.machine.kind, **_unusual(shop.machine, usual.machine, MACHINE_KEYS, units)
    }  # fmt: skip
    for word, keys in SHOP_TABLES.items():
        if table := _unusual(shop, usual, keys, units):
            document[word] = table
    own = [each for each in shop.chips if each not in usual.chips]
    groups = {each.group for each in own}
    groups |= {each.group for each in usual.chips if each not in shop.chips}
    document["species"] = [write_keys(each, SPECIES_KEYS, units) for each in shop.species]
    document["chip"] = [
        write_keys(each, CHIP_KEYS, units) for each in shop.chips if each.group in groups
    ]
    return document_text({word: value for word, value in document.items() if value != []})


def _unusual(value: Any, usual: Any, keys: tuple[Key, ...], units: str) -> Table:
    """The table of what differs from the usual values."""
    return {
        key.word: key.kind.write(getattr(value, key.name), units)
        for key in keys
        if getattr(value, key.name) != getattr(usual, key.name)
    }


def _shop(reading: Reading, document: Table) -> Shop | None:
    top = read_keys(reading, "", document, TOP_KEYS, dict.fromkeys(TABLES, ""))
    reading.units = top.good.get("units", "mm")
    machine = _machine(reading, document)
    usual = USUAL_SHOPS[machine.kind]
    species = [
        build(reading, read_keys(reading, where, table, SPECIES_KEYS), SPECIES_KEYS, Species)
        for where, table in as_tables(reading, "species", document.get("species", []))
    ]
    chips = [
        build(reading, read_keys(reading, where, table, CHIP_KEYS), CHIP_KEYS, ChipRange)
        for where, table in as_tables(reading, "chip", document.get("chip", []))
    ]
    lists: dict[str, Any] = {
        "name": top.good.get("name", ""),
        "machine": machine,
        "species": tuple(each for each in species if each is not None),
        "chips": _chips([each for each in chips if each is not None]),
    }
    shop: Shop | None = usual
    for word, keys in SHOP_TABLES.items():
        if word not in document:
            continue
        table = as_table(reading, word, document[word])
        if table is not None and shop is not None:
            values = read_keys(reading, word, table, keys)
            made = build(reading, values, keys, lambda base=shop, **own: replace(base, **own))
            shop = made or shop
    try:
        return replace(shop or usual, **lists)
    except InputError as error:
        reading.problems += error.problems
    return None


def _machine(reading: Reading, document: Table) -> Machine:
    """The machine; one that stands for it after telling what is wrong."""
    if "machine" not in document:
        reading.refuse("machine", "is missing", "a table [machine]")
        return USUAL_MACHINES["cnc"]
    table = as_table(reading, "machine", document["machine"])
    if table is None:
        return USUAL_MACHINES["cnc"]
    values = read_keys(reading, "machine", table, MACHINE_KEYS)
    usual = USUAL_MACHINES[values.good.get("kind", "cnc")]
    made = build(reading, values, MACHINE_KEYS, lambda **own: replace(usual, **own))
    return made or usual


def _chips(own: list[ChipRange]) -> tuple[ChipRange, ...]:
    """The shop's own ranges, and the usual ones of the groups that it says nothing about."""
    groups = {each.group for each in own}
    return (*own, *(each for each in USUAL_CHIPS if each.group not in groups))
