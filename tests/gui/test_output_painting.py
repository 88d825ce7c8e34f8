"""A painter of the window draws what a picture shows."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage, QPainter
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.output.painting import paint_drawing
from profilestack.desktop.window import Window
from profilestack.drawing.drawing import Drawing
from profilestack.drawing.picture import picture_bytes
from profilestack.drawing.section_picture import section_picture
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.template import template_sheets
from tests.gui.output_hands import CROWN, greys, report_of


@pytest.fixture
def window(desk: Desk, qtbot: QtBot) -> Window:
    return desk.open(CROWN)


def painted(drawing: Drawing, per_inch: int) -> np.ndarray:
    """The drawing by a painter, as shades of grey from 0 to 1."""
    per_mm = per_inch / 25.4
    image = QImage(
        round(drawing.width * per_mm),
        round(drawing.height * per_mm),
        QImage.Format.Format_Grayscale8,
    )
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    paint_drawing(painter, drawing, per_mm)
    painter.end()
    return greys(image)


def far_apart(one: np.ndarray, other: np.ndarray) -> float:
    """How far two pictures differ on average, where either of them is not white."""
    height, width = (min(a, b) for a, b in zip(one.shape, other.shape, strict=True))
    one, other = one[:height, :width], other[:height, :width]
    # a hair's shift of a line is no difference: looked at in squares of 4 pixels
    height, width = height // 4 * 4, width // 4 * 4
    coarse = [
        each[:height, :width].reshape(height // 4, 4, width // 4, 4).mean(axis=(1, 3))
        for each in (one, other)
    ]
    inked = np.minimum(*coarse) < 0.98
    return float(np.abs(coarse[0] - coarse[1])[inked].mean())


@pytest.mark.parametrize("what", ["picture", "sheet"])
def test_a_painter_draws_what_the_picture_shows(window: Window, what: str) -> None:
    report = report_of(window)
    if what == "picture":
        drawing = section_picture(report.cut, report.comparison, report.cautions, "mm")
    else:
        drawing = template_sheets(report.cut, report.comparison, report.cautions,
                                  TemplateOptions())[0]  # fmt: skip
    written = greys(QImage.fromData(picture_bytes(drawing, "png", 100)))
    own = painted(drawing, 100)
    assert abs(own.shape[0] - written.shape[0]) <= 1
    assert abs(own.shape[1] - written.shape[1]) <= 1
    apart = far_apart(own, written)
    assert apart < 0.05
    # and the measure would see it: upside down it is nothing like it
    assert far_apart(own[::-1], written) > 3.0 * apart
