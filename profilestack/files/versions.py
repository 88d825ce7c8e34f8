"""Which kind of document a file is, and which version of its format.

A document of an older version is brought up to date one version at a time, by one small function
each. Version 1 is the first, so that there are no such functions yet.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.reading import described, shown

Upgrade = Callable[[dict[str, Any]], dict[str, Any]]
"""From a document of one version to one of the next."""


@dataclass(frozen=True, slots=True)
class Format:
    """A file format: its word, what such a file is called, its newest version.

    ``upgrades[n]`` leads from version n to n + 1.
    """

    word: str
    called: str
    version: int
    upgrades: Mapping[int, Upgrade] = field(default_factory=dict)

    @property
    def line(self) -> str:
        """What stands behind ``format =`` in a new file."""
        return f"{self.word}/{self.version}"


STACK = Format("profilestack-stack", "a stack", 1)
BITS = Format("profilestack-bits", "a bits library", 1)
SHOP = Format("profilestack-shop", "a shop", 1)
FORMATS = (STACK, BITS, SHOP)

_WORD = re.compile(r"(?P<word>[a-z-]+)/(?P<version>[0-9]{1,6})")


def up_to_date(document: dict[str, Any], wanted: Format) -> dict[str, Any]:
    """The document in the newest version of its format.

    Raises:
        InputError: it is of another kind, of a newer version, or does not say what it is.
    """
    version = _version(document, wanted)
    for older in range(version, wanted.version):
        document = wanted.upgrades[older](document)
    return {**document, "format": wanted.line}


def _version(document: dict[str, Any], wanted: Format) -> int:
    expected = f'format = "{wanted.line}"'
    if "format" not in document:
        raise InputError(Problem("format", "is missing: this does not say what it is", expected))
    given = document["format"]
    if not isinstance(given, str):
        raise InputError(Problem("format", f"is {described(given)}", expected))
    match = _WORD.fullmatch(given)
    known = {form.word: form for form in FORMATS} | {wanted.word: wanted}
    form = known.get(match["word"]) if match else None
    if match is None or form is None:
        hint = nearest_word(given, [form.line for form in known.values()])
        raise InputError(Problem("format", f"{shown(given)} is unknown", expected, hint))
    if form.word != wanted.word:
        raise InputError(Problem("format", f"this is {form.called}, not {wanted.called}", expected))
    version = int(match["version"])
    if version > wanted.version:
        text = f"{shown(given)} was written by a newer profilestack"
        hint = f"this one reads {wanted.called} up to version {wanted.version}: update it"
        raise InputError(Problem("format", text, f'"{wanted.line}" or older', hint))
    if version < 1:
        raise InputError(Problem("format", f"{shown(given)} is unknown", expected))
    return version
