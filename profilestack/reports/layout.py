"""Plain text in 80 columns: what every report is laid out with."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal

WIDTH = 80


def plain(text: str) -> str:
    """The text on one line; controls, which could steer a terminal, are blanks."""
    shown = (" " if unicodedata.category(letter)[0] == "C" else letter for letter in text)
    return " ".join("".join(shown).split())


def shortened(text: str, width: int) -> str:
    """The text on one line, its end cut off with "..." where it takes more than ``width``."""
    text = plain(text)
    return text if len(text) <= width else f"{text[: width - 3].rstrip()}..."


def paragraph(text: str, lead: str = "", indent: int | None = None) -> Iterator[str]:
    """The text in lines of 80 columns: ``lead`` before the first, blanks before the others."""
    later = " " * (len(lead) if indent is None else indent)
    yield from textwrap.wrap(plain(text), WIDTH, initial_indent=lead, subsequent_indent=later)


def fixed(number: float, digits: int) -> str:
    """The number with so many decimals; halves of the decimal that it shows go away from 0."""
    exact = Decimal(repr(float(number)))
    shown = exact.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)
    return f"{abs(shown) if shown == 0 else shown:f}"


def columns(rows: Iterable[Sequence[str]], widths: Sequence[int]) -> Iterator[str]:
    """Rows of cells one blank apart; a width below 0 means flush right. No blanks at line ends."""
    for row in rows:
        cells = [
            cell.rjust(-width) if width < 0 else cell.ljust(width)
            for cell, width in zip(row, widths, strict=True)
        ]
        yield " ".join(cells).rstrip()


def joined(words: Sequence[str]) -> str:
    """As said: "1", "1 and 2", "1, 2 and 3"."""
    return " and ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)
