"""The job of drawing a cut stack into a picture file."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import cast

from profilestack.drawing.picture import KINDS, Kind, picture_bytes
from profilestack.drawing.section_picture import section_picture
from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.saving import save_bytes
from profilestack.geometry.path import Path as ProfilePath
from profilestack.jobs.cut import CutReport


@dataclass(frozen=True, slots=True)
class WrittenPicture:
    """A picture that was written: where, its kind, its size [mm], its length in bytes."""

    path: Path
    kind: Kind
    width: float
    height: float
    size: int


def write_picture(
    report: CutReport, path: Path, units: str, drawn: ProfilePath | None = None
) -> WrittenPicture:
    """Draw a cut stack and save it, whole or not at all; the suffix says what kind of file.

    ``units`` ("mm" or "in") is for the words and numbers in the picture; ``drawn`` is the wanted
    profile before it was fitted to the bits at hand, shown beside it.

    Raises:
        InputError: a suffix that is no kind of picture.
        FileError: it could not be saved.
    """
    kind = kind_of(path)
    drawing = section_picture(report.cut, report.comparison, report.cautions, units, drawn)
    data = picture_bytes(drawing, kind)
    save_bytes(path, data, keeps_former=False)
    return WrittenPicture(path, kind, drawing.width, drawing.height, len(data))


def kind_of(path: Path) -> Kind:
    """What kind of picture the name of a file means.

    Raises:
        InputError: none that is known.
    """
    suffix = path.suffix.lower().removeprefix(".")
    if suffix not in KINDS:
        known = " or ".join(f".{kind}" for kind in KINDS)
        text = f"{path.name!r} ends in no known kind of picture"
        raise InputError(Problem("", text, known, nearest_word(suffix, KINDS)))
    return cast(Kind, suffix)
