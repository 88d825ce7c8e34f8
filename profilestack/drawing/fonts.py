"""The type of all drawings, and how much room words take.

One family is used in pictures and on pages, so that a layout measured once holds in both. It
knows Latin, Greek, Cyrillic and more; what it lacks is shown as a hollow box.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path as FilePath

from profilestack.units import INCH

POINT = float(INCH / 72)
"""One point of type [mm]."""

CAP_HEIGHT = 0.729
"""Height of a capital, in parts of the type size (from the font's own table)."""

LEADING = 1.32
"""From line to line, in parts of the type size."""

MISSING = "□"
LONGEST_LINE = 4000
"""Characters of a text that are looked at: nobody reads more, and nothing may take for ever."""


@dataclass(frozen=True, slots=True)
class Face:
    """One cut of the family: its file, and the width of each character [1/1000 of the size]."""

    name: str
    file: FilePath
    widths: dict[int, float]


@lru_cache(maxsize=2)
def face(bold: bool) -> Face:
    """The upright or the bold face."""
    import matplotlib  # for the font files it carries
    from reportlab.pdfbase.ttfonts import TTFontFile

    name = "DejaVuSans-Bold" if bold else "DejaVuSans"
    file = FilePath(matplotlib.get_data_path()) / "fonts" / "ttf" / f"{name}.ttf"
    read = TTFontFile(str(file))
    return Face(name, file, dict(read.charWidths))


def plain(text: str) -> str:
    """The text on one line: controls and line breaks are blanks, what the font lacks a box."""
    if text.isascii() and text.isprintable():  # the usual case; the font has all of these
        return " ".join(text[:LONGEST_LINE].split())
    known = face(False).widths
    shown = []
    for letter in text[:LONGEST_LINE]:
        if letter.isspace() or unicodedata.category(letter)[0] == "C":
            shown.append(" ")
        else:
            shown.append(letter if ord(letter) in known else MISSING)
    return " ".join("".join(shown).split())


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of a line of text [mm] at ``size`` [pt]."""
    widths = face(bold).widths
    return sum(widths.get(ord(letter), 600.0) for letter in text) * size * POINT / 1000.0


def line_height(size: float) -> float:
    """From one base line to the next [mm]."""
    return LEADING * size * POINT


def fitted(text: str, size: float, width: float, bold: bool = False) -> str:
    """The text on one line, cut short with an ellipsis where it is wider than ``width`` [mm]."""
    text = plain(text)
    if text_width(text, size, bold) <= width:
        return text
    room = width - text_width("…", size, bold)
    used, kept = 0.0, 0
    for letter in text:
        used += text_width(letter, size, bold)
        if used > room:
            break
        kept += 1
    return text[:kept].rstrip() + "…"


def wrapped(
    text: str, size: float, width: float, bold: bool = False, most: int | None = None
) -> list[str]:
    """The text in lines no wider than ``width`` [mm]; a word too long is broken.

    With ``most``, what does not fit into so many lines is cut short with an ellipsis.
    """
    lines = [""]
    for word in plain(text).split(" "):
        for part in _parts(word, size, width, bold):
            joined = f"{lines[-1]} {part}" if lines[-1] else part
            if text_width(joined, size, bold) <= width or not lines[-1]:
                lines[-1] = joined
            else:
                lines.append(part)
    if most is not None and len(lines) > most:
        rest = " ".join(lines[most - 1 :])
        lines = [*lines[: most - 1], fitted(rest, size, width, bold)]
    return lines


def _parts(word: str, size: float, width: float, bold: bool) -> list[str]:
    if text_width(word, size, bold) <= width:
        return [word]
    parts, used = [""], 0.0
    for letter in word:
        step = text_width(letter, size, bold)
        if used + step > width and parts[-1]:
            parts.append("")
            used = 0.0
        parts[-1] += letter
        used += step
    return parts
