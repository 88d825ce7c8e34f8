"""Targets in files: drawn as a path, or listed as classical members."""

from __future__ import annotations

import os
from dataclasses import dataclass
from typing import Any

from profilestack.errors import FileError, InputError
from profilestack.files.file_target import name_problem, traced_path
from profilestack.files.kinds import ANGLE, FLAG, LENGTH, NUMBER, PLACE, TEXT, Word
from profilestack.files.path_keys import CHORD, PATH_KEYS, path_of, path_table
from profilestack.files.reading import (
    UNREADABLE,
    Key,
    Reading,
    Table,
    Values,
    as_table,
    build,
    described,
    joined,
    keys_elsewhere,
    read_keys,
)
from profilestack.files.writing import write_keys
from profilestack.stack import FileTarget, MemberTarget, PathTarget, Target
from profilestack.targets.member_shapes import MEMBERS
from profilestack.targets.members import LIES, Member, MemberColumn

NO_WIDTH = 1e-6
"""A target narrower than this [mm] has no width."""

MEMBER_KEYS = (
    Key("member", Word(tuple(MEMBERS)), required=True),
    Key("height", LENGTH),
    Key("projection", LENGTH),
    Key("variant", TEXT),
    Key("width", LENGTH),
    Key("depth", LENGTH),
)


@dataclass(frozen=True, slots=True)
class Members:
    """The list behind ``members``, from the top of the molding to its bottom."""

    sample: tuple[Member, ...] = ()
    expected: str = 'a list such as [{ member = "torus", height = 12, projection = 6 }]'

    def read(self, reading: Reading, where: str, value: object) -> Any:
        """The members; wrong ones are told."""
        if not isinstance(value, list):
            reading.refuse(where, f"is {described(value)}", self.expected)
            return UNREADABLE
        before = len(reading.problems)
        members = []
        for number, item in enumerate(value, 1):
            place = f"{where}[{number}]"
            if (table := as_table(reading, place, item)) is not None:
                values = read_keys(reading, place, table, MEMBER_KEYS)
                # which measures a member takes depends on which it is
                if "member" not in values.wrong:
                    members.append(build(reading, values, MEMBER_KEYS, Member))
        return UNREADABLE if len(reading.problems) > before else tuple(members)

    def write(self, value: tuple[Member, ...], units: str) -> Any:
        """A table for each member."""
        return [write_keys(member, MEMBER_KEYS, units) for member in value]


PLACING_KEYS = (
    Key("at", PLACE),
    Key("scale", NUMBER),
    Key("rotation", ANGLE),
    Key("mirror", FLAG),
)
COLUMN_KEYS = (
    Key("members", Members(), required=True),
    Key("lie", Word(tuple(LIES))),
    Key("spring", ANGLE),
    Key("back", LENGTH),
    Key("bottom", LENGTH),
    *PLACING_KEYS,
)
TYPED_KEYS = (*PATH_KEYS, Key("closed", FLAG))
FILE_KEYS = (Key("file", TEXT, required=True), *PLACING_KEYS)

VARIANTS = {
    "a target of members": COLUMN_KEYS,
    "a target from a file": FILE_KEYS,
    "a target of start and path": TYPED_KEYS,
}
"""What a target can be; the first whose first key is there is meant, else the last."""


def read_target(reading: Reading, where: str, table: Table) -> Target | None:
    """The target of one table, or None after telling what is wrong."""
    chosen = next((name for name, keys in VARIANTS.items() if keys[0].word in table), "")
    chosen = chosen or "a target of start and path"
    keys = VARIANTS[chosen]
    if keys is TYPED_KEYS and not {"start", "path", "closed"} & set(table):
        reading.refuse(where, "says nothing", "start and path, or members, or file")
        return None
    values = read_keys(reading, where, table, keys, keys_elsewhere(VARIANTS, chosen))
    if keys is FILE_KEYS:
        return _from_file(reading, where, values)
    if keys is COLUMN_KEYS:
        if "members" in values.wrong:
            return None
        if "lie" in values.wrong:
            values.wrong |= {"spring", "bottom"}  # only some lies take them
        column = build(reading, values, keys, MemberColumn)
        return None if column is None else MemberTarget(column)
    closed = values.good.get("closed", False)
    path = path_of(reading, values, closed=closed)
    if path is None:
        return None
    flat = path.flatten(CHORD)
    if float(flat[:, 0].max() - flat[:, 0].min()) < NO_WIDTH:
        reading.refuse(where, "has no width: it only goes up or down", "a path that leads across")
        return None
    if not closed and path.is_closed:
        text = "ends where it starts"
        reading.refuse(where, text, "closed = true, or two places on the blank's outline")
        return None
    return PathTarget(path, closed)


def _from_file(reading: Reading, where: str, values: Values) -> FileTarget | None:
    """The target of a file that the stack names."""
    if "file" in values.wrong:
        return None
    name, folder = values.good["file"], os.path.abspath(reading.folder)
    key = joined(where, "file")
    if problem := name_problem(name):
        reading.refuse(key, problem.text, problem.expected, problem.hint)
        return None
    try:
        traced = traced_path(folder, name)
    except InputError as error:
        for told in error.problems:
            reading.refuse(key, f"{name}: {told.text}" if told.file else told.text, told.expected,
                           _without_options(told.hint))  # fmt: skip
        return None
    except FileError as error:
        reading.refuse(key, str(error), "a drawing, points or a picture")
        return None

    def make(file: str, **placing: Any) -> FileTarget:
        return FileTarget(file, traced, folder, **placing)

    return build(reading, values, FILE_KEYS, make)


def _without_options(hint: str) -> str:
    """A hint that names options of the command line, which a stack has not."""
    return "profilestack target FILE makes a stack of it and can be told so" if hint else ""


def target_table(target: Target, units: str) -> Table:
    """A target as a table."""
    if isinstance(target, FileTarget):
        return write_keys(target, FILE_KEYS, units)
    if isinstance(target, MemberTarget):
        return write_keys(target.column, COLUMN_KEYS, units)
    closed: Table = {"closed": True} if target.closed else {}
    return closed | path_table(target.typed, units)
