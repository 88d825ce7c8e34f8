"""Stack files, ``NAME.stack.toml``: format ``profilestack-stack/1``."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeVar

from profilestack.bits import Bit
from profilestack.errors import InputError, Problem
from profilestack.files.bit_keys import bit_table, read_bit, stand_in_bit
from profilestack.files.documents import document_from, placed, read_text
from profilestack.files.file_target import moved_to
from profilestack.files.kinds import ANGLE, FLAG, LENGTH, TEXT, WHOLE, Word
from profilestack.files.path_keys import Drawn
from profilestack.files.reading import (
    Key,
    Reading,
    Table,
    as_table,
    as_tables,
    build,
    keys_elsewhere,
    read_keys,
)
from profilestack.files.saving import DISK, FileLayer, save_text
from profilestack.files.target_keys import read_target, target_table
from profilestack.files.versions import STACK
from profilestack.files.writing import document_text, write_keys
from profilestack.stack import (
    Blank,
    CurvedRun,
    FileTarget,
    OutlineStock,
    Pass,
    Rectangle,
    Round,
    Run,
    Setup,
    Stack,
    StraightRun,
    Tolerance,
    TurnedRun,
)
from profilestack.units import MILLIMETRES

TOP_KEYS = (
    Key("format", TEXT, required=True),
    Key("title", TEXT),
    Key("units", Word(tuple(MILLIMETRES)), required=True),
)
TABLES = ("blank", "run", "tolerance", "target", "setup", "pass", "bit")

SPECIES = Key("species", TEXT)
STOCKS: dict[str, tuple[type[Any], tuple[Key, ...]]] = {
    "a rectangular blank": (
        Rectangle,
        (Key("width", LENGTH, required=True), Key("thickness", LENGTH, required=True)),
    ),
    "a round blank": (Round, (Key("diameter", LENGTH, required=True),)),
    "a blank of any outline": (
        OutlineStock,
        (Key("outline", Drawn(closed=True), required=True, field="path"),),
    ),
}

KIND = Key("kind", Word(("straight", "curved", "turned")), required=True)
PIECES = Key("pieces", WHOLE)
RUNS: dict[str, tuple[type[Any], tuple[Key, ...]]] = {
    "straight": (StraightRun, (Key("length", LENGTH, required=True, sample=1e300), PIECES)),
    "curved": (
        CurvedRun,
        (Key("radius", LENGTH, required=True), Key("angle", ANGLE, required=True), PIECES),
    ),
    "turned": (TurnedRun, (PIECES,)),
}

TOLERANCE_KEYS = (Key("leftover", LENGTH), Key("overcut", LENGTH))

SETUP_KEYS = (
    Key("name", TEXT, required=True),
    Key("angle", ANGLE, required=True, sample=0.0),
    Key("copies", WHOLE),
)

PASS_KEYS = (
    Key("bit", TEXT, required=True),
    Key("setup", TEXT),
    Key("offset", LENGTH, required=True),
    Key("depth", LENGTH, required=True),
    Key("count", WHOLE),
    Key("pitch", LENGTH),
    Key("from", LENGTH, field="begin"),
    Key("to", LENGTH, field="end"),
    Key("on", FLAG),
    Key("relief", FLAG),
    Key("note", TEXT),
)

Item = TypeVar("Item")


def read_stack(path: str | os.PathLike[str]) -> Stack:
    """The stack of a file.

    Raises:
        FileError: the file is not there or cannot be read.
        InputError: every problem of the document, each with its key and line.
    """
    return read_stack_text(read_text(path), os.fspath(path))


def read_stack_text(text: str, file: str = "") -> Stack:
    """The stack of a document's text.

    ``file`` is named in messages; files that the document names are looked for beside it.

    Raises:
        InputError: every problem of the document, each with its key and line.
    """
    reading = Reading(folder=os.path.dirname(file))
    stack = _stack(reading, document_from(text, STACK, file))
    if reading.problems or stack is None:
        raise InputError(placed(reading.problems, text, file))
    return stack


def write_stack(stack: Stack, path: str | os.PathLike[str], layer: FileLayer = DISK) -> None:
    """Save a stack; the former version is kept beside it as ``.bak`` and survives any failure.

    A target from another file is named anew from where the stack is saved.

    Raises:
        InputError: the document could not be read again.
        FileError: it could not be saved; the former version is untouched.
    """
    if isinstance(stack.target, FileTarget):
        folder = os.path.dirname(os.fspath(path))
        stack = replace(stack, target=moved_to(stack.target, folder))
    text = stack_text(stack)
    read_stack_text(text, os.fspath(path))
    save_text(path, text, layer)


def stack_text(stack: Stack) -> str:
    """The document of a stack, its bare numbers in the stack's units.

    Raises:
        InputError: a text that no file can hold.
    """
    units = stack.units
    document: Table = {"format": STACK.line}
    if stack.title:
        document["title"] = stack.title
    document |= {"units": units, "blank": _blank_table(stack.blank, units)}
    document["run"] = {
        "kind": stack.run.kind, **write_keys(stack.run, RUNS[stack.run.kind][1], units)
    }  # fmt: skip
    document["tolerance"] = {
        key.word: key.kind.write(getattr(stack.tolerance, key.name), units)
        for key in TOLERANCE_KEYS
    }
    if stack.target is not None:
        document["target"] = target_table(stack.target, units)
    document["setup"] = [write_keys(setup, SETUP_KEYS, units) for setup in stack.setups]
    document["pass"] = [write_keys(single, PASS_KEYS, units) for single in stack.passes]
    document["bit"] = [bit_table(bit, units) for bit in stack.bits]
    return document_text({word: value for word, value in document.items() if value != []})


def _stack(reading: Reading, document: Table) -> Stack | None:
    elsewhere = dict.fromkeys(TABLES, "")
    top = read_keys(reading, "", document, TOP_KEYS, elsewhere)
    reading.units = top.good.get("units", "mm")
    parts: dict[str, Any] = {
        "title": top.good.get("title", ""),
        "units": reading.units,
        "blank": _single(reading, document, "blank", _blank) or Blank(Rectangle(1.0, 1.0)),
        "run": _single(reading, document, "run", _run) or _stand_in_run(document.get("run")),
    }
    for word, read in (("tolerance", _tolerance), ("target", read_target)):
        if word in document and (value := _single(reading, document, word, read)) is not None:
            parts[word] = value
    parts["setups"] = _several(reading, document, "setup", _setup)
    parts["passes"] = _several(reading, document, "pass", _pass)
    parts["bits"] = _several(reading, document, "bit", _bit)
    told = {problem.where for problem in reading.problems}
    try:
        return Stack(**parts)
    except InputError as error:
        reading.problems += [problem for problem in error.problems if not _is_echo(problem, told)]
    return None


def _is_echo(problem: Problem, told: set[str]) -> bool:
    """Whether a contradiction between parts only comes from a part that could not be read."""
    if problem.where in told:
        return True
    if problem.where.endswith(".setup"):
        return any(where.startswith("setup") and where.endswith("name") for where in told)
    return False


def _single(
    reading: Reading,
    document: Table,
    word: str,
    read: Callable[[Reading, str, Table], Item | None],
) -> Item | None:
    if word not in document:
        reading.refuse(word, "is missing", f"a table [{word}]")
        return None
    table = as_table(reading, word, document[word])
    return None if table is None else read(reading, word, table)


def _several(
    reading: Reading, document: Table, word: str, read: Callable[[Reading, str, Table], Item]
) -> tuple[Item, ...]:
    tables = as_tables(reading, word, document.get(word, []))
    return tuple(read(reading, where, table) for where, table in tables)


def _blank(reading: Reading, where: str, table: Table) -> Blank | None:
    variants = {name: keys for name, (_, keys) in STOCKS.items()}
    chosen = next((n for n, keys in variants.items() if {k.word for k in keys} & set(table)), None)
    if chosen is None:
        expected = "width and thickness, or diameter, or outline"
        reading.refuse(where, "has no size", expected)
    keys = (*variants.get(chosen or "", ()), SPECIES)
    values = read_keys(reading, where, table, keys, keys_elsewhere(variants, chosen))
    if chosen is None:
        return None
    stock = STOCKS[chosen][0]

    def make(species: str | None = None, **sizes: Any) -> Blank:
        return Blank(stock(**sizes), species)

    return build(reading, values, keys, make)


def _blank_table(blank: Blank, units: str) -> Table:
    keys = next(keys for stock, keys in STOCKS.values() if isinstance(blank.stock, stock))
    return write_keys(blank.stock, keys, units) | write_keys(blank, (SPECIES,), units)


def _run(reading: Reading, where: str, table: Table) -> Run | None:
    kind = table.get("kind")
    chosen = kind if isinstance(kind, str) and kind in RUNS else None
    own = RUNS[chosen][1] if chosen else (PIECES,)
    names = {f"a {name} run": keys for name, (_, keys) in RUNS.items()}
    elsewhere = keys_elsewhere(names, f"a {chosen} run" if chosen else None)
    values = read_keys(reading, where, table, (KIND, *own), elsewhere)
    if chosen is None:
        return None
    run: Run | None = build(reading, values.only(own), own, RUNS[chosen][0])
    return run


def _stand_in_run(table: object) -> Run:
    """A run of the kind that was meant, so that what depends on the kind is still checked."""
    kind = table.get("kind") if isinstance(table, dict) else None
    stand_ins: dict[object, Run] = {"curved": CurvedRun(1.0, 90.0), "turned": TurnedRun()}
    return stand_ins.get(kind, StraightRun(1e300)) if isinstance(kind, str) else StraightRun(1e300)


def _tolerance(reading: Reading, where: str, table: Table) -> Tolerance | None:
    values = read_keys(reading, where, table, TOLERANCE_KEYS)
    return build(reading, values, TOLERANCE_KEYS, Tolerance)


def _setup(reading: Reading, where: str, table: Table) -> Setup:
    values = read_keys(reading, where, table, SETUP_KEYS)
    made = build(reading, values, SETUP_KEYS, Setup)
    return made or Setup(values.good.get("name") or where, 0.0)


def _pass(reading: Reading, where: str, table: Table) -> Pass:
    values = read_keys(reading, where, table, PASS_KEYS)
    made = build(reading, values, PASS_KEYS, Pass)
    return made or Pass("x", 0.0, 1.0, values.good.get("setup", "face"))


def _bit(reading: Reading, where: str, table: Table) -> Bit:
    return read_bit(reading, where, table) or stand_in_bit(where, table)
