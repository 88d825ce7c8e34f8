"""The job of drawing a fitted target against its tracing into a picture file."""

from __future__ import annotations

from pathlib import Path

from profilestack.cutting.cut import CHORD
from profilestack.cutting.wanted import wanted_in
from profilestack.drawing.picture import picture_bytes
from profilestack.drawing.target_picture import Fitting, target_picture
from profilestack.files.saving import save_bytes
from profilestack.jobs.picture import WrittenPicture, kind_of
from profilestack.jobs.target import TargetReport


def write_target_picture(report: TargetReport, path: Path, units: str) -> WrittenPicture:
    """Draw a fitted target and save it, whole or not at all; the suffix says what kind of file.

    Raises:
        InputError: a suffix that is no kind of picture.
        FileError: it could not be saved.
    """
    kind = kind_of(path)
    stack = report.stack
    assert stack.target is not None, "the job makes one"
    wanted = wanted_in(stack.blank, stack.target, CHORD)
    drawing = target_picture(
        Fitting(
            stack, report.traced.flatten(), report.fitted, wanted.region,
            report.before, report.after, report.deviation.largest, report.tolerance,
        ),
        units,
    )  # fmt: skip
    data = picture_bytes(drawing, kind)
    save_bytes(path, data, keeps_former=False)
    return WrittenPicture(path, kind, drawing.width, drawing.height, len(data))
