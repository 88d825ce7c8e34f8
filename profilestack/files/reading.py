"""Reading tables strictly: every key known, every value of its kind, every problem told.

A table of the file format is a tuple of ``Key``. It drives the reading here and the writing in
``writing.py``, so that a key is named once. Nothing stops at the first problem: what cannot be
read is replaced by a harmless sample, and what is then found wrong because of the sample alone
is left out.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Protocol, TypeVar

from profilestack.errors import GeometryError, InputError, Problem, nearest_word

Table = dict[str, Any]
"""A table of a document, as the TOML reader gives it."""

Made = TypeVar("Made")


_PLAIN_KEY = re.compile(r"[A-Za-z0-9_-]+")


class Unreadable:
    """What a kind gives back for a value that it has refused."""


UNREADABLE = Unreadable()


@dataclass(slots=True)
class Reading:
    """One document on its way to a value: its units, and the problems found so far.

    ``folder`` is where the document lies: the files that it names are looked for from there.
    """

    units: str = "mm"
    folder: str = ""
    problems: list[Problem] = field(default_factory=list)

    def refuse(self, where: str, text: str, expected: str = "", hint: str = "") -> None:
        """Note a problem at the key path ``where``."""
        self.problems.append(Problem(where, text, expected, hint))


class Kind(Protocol):
    """A kind of value: how it is read from a file and put back into one."""

    @property
    def sample(self) -> Any:
        """Stands for a value that could not be read while the rest of its table is checked."""

    @property
    def expected(self) -> str:
        """What such a value looks like, in words."""

    def read(self, reading: Reading, where: str, value: object) -> Any:
        """The value in memory (lengths in mm); ``UNREADABLE`` after telling ``reading`` why."""

    def write(self, value: Any, units: str) -> Any:
        """What stands in a file in ``units``."""


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a table.

    ``field`` is the name of the value's field where it differs from the word in the file;
    ``sample`` stands for a value that could not be read (else the kind's own).
    """

    word: str
    kind: Kind
    required: bool = False
    field: str = ""
    sample: Any = None

    @property
    def name(self) -> str:
        """The field of the value in memory."""
        return self.field or self.word

    @property
    def stand_in(self) -> Any:
        """The value that stands for one that could not be read."""
        return self.kind.sample if self.sample is None else self.sample


@dataclass(slots=True)
class Values:
    """What a table gave, by field: good values, samples for required ones, and what was wrong."""

    where: str
    raw: Table
    good: dict[str, Any] = field(default_factory=dict)
    sampled: dict[str, Any] = field(default_factory=dict)
    wrong: set[str] = field(default_factory=set)

    def only(self, keys: tuple[Key, ...]) -> Values:
        """The part of the values that these keys name."""
        names = {key.name for key in keys}
        good = {name: value for name, value in self.good.items() if name in names}
        sampled = {name: value for name, value in self.sampled.items() if name in names}
        return Values(self.where, self.raw, good, sampled, set(self.wrong))


def as_table(reading: Reading, where: str, value: object) -> Table | None:
    """The value when it is a table, else None after telling why."""
    if isinstance(value, dict):
        return value
    reading.refuse(where, f"is {described(value)}", "a table of keys")
    return None


def as_tables(reading: Reading, word: str, value: object) -> list[tuple[str, Table]]:
    """Every ``[[word]]`` with its key path; what is none is told."""
    if isinstance(value, dict):
        reading.refuse(word, "is one table", f"[[{word}]], with two brackets, for each")
        return []
    if not isinstance(value, list):
        reading.refuse(word, f"is {described(value)}", f"[[{word}]] for each")
        return []
    tables = []
    for number, item in enumerate(value, 1):
        where = f"{word}[{number}]"
        if (table := as_table(reading, where, item)) is not None:
            tables.append((where, table))
    return tables


def read_keys(
    reading: Reading,
    where: str,
    table: Table,
    keys: tuple[Key, ...],
    elsewhere: Mapping[str, str] | None = None,
) -> Values:
    """Read a table's values by its keys.

    ``elsewhere``: see :func:`keys_elsewhere`.
    """
    elsewhere = elsewhere or {}
    known = [key.word for key in keys] + [word for word, place in elsewhere.items() if not place]
    expected = f"one of {', '.join(known)}"
    values = Values(where, table)
    for word in table:
        if word in known:
            continue
        place = elsewhere.get(word)
        if place is None:
            hint = nearest_word(word, known)
            reading.refuse(
                joined(where, key_word(word)), f"{shown(word)} is no key here", expected, hint
            )
        else:
            reading.refuse(joined(where, word), f"is a key of {place} alone", expected)
    for key in keys:
        if key.word not in table:
            if key.required:
                reading.refuse(joined(where, key.word), "is missing", key.kind.expected)
                _replace(values, key)
            continue
        value = key.kind.read(reading, joined(where, key.word), table[key.word])
        if isinstance(value, Unreadable):
            _replace(values, key)
        else:
            values.good[key.name] = value
    return values


def keys_elsewhere(variants: Mapping[str, tuple[Key, ...]], chosen: str | None) -> dict[str, str]:
    """The keys of the variants that a table has not, and whose they are.

    While nobody knows which variant is meant (``chosen`` None), none of their keys can be called
    wrong: then each stands beside an empty text.
    """
    own = {key.word for key in variants.get(chosen or "", ())}
    owners: dict[str, list[str]] = {}
    for name, keys in variants.items():
        for key in keys:
            owners.setdefault(key.word, []).append(name)
    return {
        word: "" if chosen is None else " or ".join(names)
        for word, names in owners.items()
        if word not in own
    }


def _replace(values: Values, key: Key) -> None:
    """Let a sample stand for what is missing or wrong; an optional value is simply left out."""
    values.wrong.add(key.name)
    if key.required:
        values.sampled[key.name] = key.stand_in


def build(
    reading: Reading, values: Values, keys: tuple[Key, ...], make: Callable[..., Made]
) -> Made | None:
    """Make a value of what was read; its own refusals are told at their keys.

    Where values had to be replaced by samples, the value is made and checked all the same.
    """
    words = {key.name: key.word for key in keys}
    try:
        return make(**values.good, **values.sampled)
    except InputError as error:
        for problem in error.problems:
            if (told := _at_its_key(problem, values, words)) is not None:
                reading.problems.append(told)
    except GeometryError as error:
        reading.refuse(values.where, str(error))
    return None


def _at_its_key(problem: Problem, values: Values, words: dict[str, str]) -> Problem | None:
    """The problem with the file's own word and value, or None when a sample is to blame."""
    name, _, rest = problem.where.partition(".")
    if name in values.wrong:
        return None
    word = words.get(name, name)
    text = problem.text
    if problem.text == f"{values.good.get(name)!r} is impossible":
        text = f"{shown(values.raw[word])} is impossible"
    where = f"{word}.{rest}" if rest else word
    return replace(problem, where=joined(values.where, where), text=text)


def key_word(word: str) -> str:
    """A key as TOML writes it: in quotes, controls escaped, when it is no plain word."""
    return word if _PLAIN_KEY.fullmatch(word) else json.dumps(word, ensure_ascii=False)


def joined(where: str, word: str) -> str:
    """A key path one level further in."""
    return f"{where}.{word}" if where and word else where or word


def shown(value: object) -> str:
    """A value as it stands in the file, cut short."""
    if isinstance(value, bool):
        text = "true" if value else "false"
    elif isinstance(value, str):
        text = json.dumps(value[:200], ensure_ascii=False)
    elif isinstance(value, int) and abs(value) >= 10**40:
        text = f"a whole number of about {value.bit_length() * 3 // 10} digits"
    else:
        text = str(value)
    return text if len(text) <= 60 else text[:57] + "..."


def described(value: object) -> str:
    """A value and the sort of thing it is, to stand behind "is"."""
    if isinstance(value, bool):
        return shown(value)
    if isinstance(value, (int, float)):
        return f"the number {shown(value)}"
    if isinstance(value, str):
        return f"the text {shown(value)}"
    if isinstance(value, (dict, list)):
        return "a table" if isinstance(value, dict) else "a list"
    return f"the date or time {shown(value)}"
