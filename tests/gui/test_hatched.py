"""Filling between a curve and a line, column by column, against Qt's own polygons."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPixmap
from pytestqt.qtbot import QtBot

from profilestack.desktop.section.shapes import polygon_of
from profilestack.desktop.strips.hatched import Hatched, between, pixels_of
from profilestack.desktop.theme import LIGHT

WIDE, HIGH, ZERO = 300, 80, 50.0
PLAIN = np.zeros((HIGH, WIDE), dtype=np.uint32)
FULL = np.ones((HIGH, WIDE), dtype=np.uint32)


def test_pixels_whose_middle_lies_between_are_filled() -> None:
    x, y = np.array((10.0, 20.0, 20.0, 30.0)), np.array((46.0, 46.0, 53.4, 53.4))
    filled = between(PLAIN, FULL, x, y, ZERO)
    assert filled[46:50, 10:20].all(), "above the line"
    assert filled[50:53, 20:30].all(), "and below it, to the row whose middle is 52.5"
    assert filled.sum() == 4 * 10 + 3 * 10
    assert not PLAIN.any(), "the ground itself stays as it is"


def test_a_curve_that_runs_leftwards_is_the_same_one() -> None:
    x, y = np.linspace(5.0, 290.0, 80), ZERO + 30.0 * np.sin(np.linspace(0.0, 20.0, 80))
    there, back = (between(PLAIN, FULL, *curve, ZERO) for curve in ((x, y), (x[::-1], y[::-1])))
    assert there.any()
    assert (there == back).all()


@pytest.mark.parametrize("seed", range(5))
def test_it_is_what_a_polygon_fills(qtbot: QtBot, seed: int) -> None:
    random = np.random.default_rng(seed)
    x = np.sort(random.uniform(5.0, WIDE - 5.0, 120))
    y = ZERO + np.cumsum(random.normal(0.0, 3.0, 120)).clip(-45.0, 25.0)
    picture = QPixmap(WIDE, HIGH)
    picture.fill(QColor("white"))
    painter = QPainter(picture)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor("black"))
    closed = np.concatenate((np.column_stack((x, y)), ((x[-1], ZERO), (x[0], ZERO))))
    painter.drawPolygon(polygon_of(closed), Qt.FillRule.WindingFill)
    painter.end()
    theirs = (pixels_of(picture) & 0xFF) == 0
    ours = between(PLAIN, FULL, x, y, ZERO) == 1
    assert theirs.sum() > 500
    assert (theirs != ours).sum() <= 0.02 * theirs.sum(), "pixels on the edge itself"


def test_above_is_leftover_and_below_is_overcut(qtbot: QtBot) -> None:
    ground = QPixmap(WIDE, HIGH)
    ground.fill(QColor(LIGHT.paper))
    sheet = QPixmap(ground)
    painter = QPainter(sheet)
    x, y = np.array((0.0, 150.0, 150.0, 300.0)), np.array((10.0, 10.0, 70.0, 70.0))
    Hatched().paint(painter, LIGHT, ground, x, y, ZERO)
    painter.end()
    image = sheet.toImage()
    shades = {
        name: {image.pixelColor(column, row).name() for column in columns for row in rows}
        for name, columns, rows in (
            ("leftover", range(150), range(10, 50)),
            ("overcut", range(150, 300), range(50, 70)),
            ("air", range(300), range(10)),
        )
    }
    assert shades["air"] == {LIGHT.paper.lower()}
    for name in ("leftover", "overcut"):
        assert len(shades[name]) > 2, "lines on a tint"
        assert LIGHT.paper.lower() not in shades[name]
    warm, cool = QColor(LIGHT.leftover), QColor(LIGHT.overcut)
    assert (warm.red() > warm.blue(), cool.red() > cool.blue()) == (True, False)
    assert all(QColor(shade).red() > QColor(shade).blue() for shade in shades["leftover"])
