"""On which line of a TOML text each key stands.

The TOML reader keeps no lines, so that the text is walked a second time, and only when there is a
problem to tell. The walk trusts that the text has been read as TOML before.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from profilestack.files.reading import joined, key_word

_TOKEN = re.compile(
    r"""
    (?P<blank>   [ \t\r]+ | \#[^\n]* )
  | (?P<newline> \n )
  | (?P<word>    \"\"\" (?: [^\\] | \\. )*? \"{3,5} | ''' .*? '{3,5}
               | " (?: [^"\\\n] | \\. )* " | ' [^'\n]* ' | [^\s"'\#\[\]{},=.]+ )
  | (?P<mark>    . )
    """,
    re.VERBOSE | re.DOTALL,
)
_ENDS = frozenset(",]}\n")


def key_lines(text: str) -> dict[str, int]:
    """The line of every key, as ``pass[3].depth`` (counted from 1) -> line (from 1)."""
    walk = _Walk(list(_tokens(text)))
    walk.document()
    return walk.lines


def line_of(lines: dict[str, int], where: str) -> int | None:
    """The line of a key path, or of the nearest table around it; None at the document's top."""
    while where:
        if where in lines:
            return lines[where]
        where = where[: max(where.rfind("."), where.rfind("["), 0)]
    return None


def first_too_deep(text: str, most: int) -> int | None:
    """The first line on which lists, tables or dotted keys go deeper than ``most``."""
    depth = parts = 0
    for token in _tokens(text):
        depth += token.text in ("[", "{")
        depth -= token.text in ("]", "}")
        parts = parts + 1 if token.text == "." else parts if token.kind == "word" else 0
        if max(depth, parts + 1) > most:
            return token.line
    return None


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str  # word, mark, newline
    text: str
    line: int


def _tokens(text: str) -> Iterator[_Token]:
    """Everything but blanks and comments."""
    line = 1
    for match in _TOKEN.finditer(text):
        kind, word = match.lastgroup or "", match.group()
        if kind != "blank":
            yield _Token(kind, word, line)
        line += word.count("\n")


class _Walk:
    """One walk over a text's tokens; ``lines`` fills as it goes."""

    def __init__(self, tokens: list[_Token]) -> None:
        self.tokens = tokens
        self.next = 0
        self.lines: dict[str, int] = {}
        self.counts: dict[str, int] = {}

    def document(self) -> None:
        """Headers and keys, line by line."""
        table = ""
        while self.next < len(self.tokens):
            if self.at("\n"):
                self.next += 1
            elif self.at("["):
                table = self.header()
            else:
                self.key_and_value(table)

    def header(self) -> str:
        """``[a.b]`` or ``[[a.b]]``; gives the table in which the next keys stand."""
        line = self.tokens[self.next].line
        brackets = 0
        while self.at("["):
            brackets += 1
            self.next += 1
        *outer, last = self.dotted("]")
        self.next += brackets
        where = ""
        for part in outer:
            where = self.newest(joined(where, part))
        where = joined(where, last)
        if brackets == 2:
            self.counts[where] = self.counts.get(where, 0) + 1
            self.lines.setdefault(where, line)
        where = self.newest(where)
        self.lines.setdefault(where, line)
        return where

    def key_and_value(self, table: str) -> None:
        """``a.b = value`` inside ``table``."""
        line = self.tokens[self.next].line
        where = table
        for part in self.dotted("="):
            where = joined(where, part)
            self.lines.setdefault(where, line)
        self.next += 1
        self.value(where)

    def value(self, where: str) -> None:
        """A list, an inline table, or the words of a plain value."""
        if self.at("["):
            self.next += 1
            self.list_items(where)
        elif self.at("{"):
            self.next += 1
            while self.next < len(self.tokens) and not self.at("}"):
                if self.at(",") or self.at("\n"):
                    self.next += 1
                else:
                    self.key_and_value(where)
            self.next += 1
        else:
            while self.next < len(self.tokens) and self.tokens[self.next].text not in _ENDS:
                self.next += 1

    def list_items(self, where: str) -> None:
        """The items up to the closing bracket, counted from 1."""
        number = 1
        while self.next < len(self.tokens) and not self.at("]"):
            if self.at("\n"):
                self.next += 1
            elif self.at(","):
                number += 1
                self.next += 1
            else:
                item = f"{where}[{number}]"
                self.lines[item] = self.tokens[self.next].line
                self.value(item)
        self.next += 1

    def dotted(self, end: str) -> list[str]:
        """The parts of a key up to the mark ``end``, which is left standing."""
        parts = []
        while self.next < len(self.tokens) and self.tokens[self.next].text not in (end, "\n"):
            token = self.tokens[self.next]
            if token.kind == "word":
                parts.append(key_word(token.text.strip("\"'")))
            self.next += 1
        return parts or [""]

    def at(self, text: str) -> bool:
        """Whether the next token is that mark."""
        return self.next < len(self.tokens) and self.tokens[self.next].text == text

    def newest(self, where: str) -> str:
        """The last of the tables of that name, where there are several."""
        count = self.counts.get(where)
        return f"{where}[{count}]" if count else where
