"""The axes that all charts share."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.charting import Axes, room_in
from profilestack.desktop.scale import scale_over
from profilestack.desktop.theme import LIGHT


def test_values_lie_between_the_ends_of_the_room() -> None:
    axes = Axes(QRectF(50.0, 10.0, 200.0, 100.0), scale_over(0.0, 40.0), scale_over(0.0, 2.0))
    assert axes.place(0.0, 0.0).toTuple() == (50.0, 110.0)
    assert axes.place(40.0, 2.0).toTuple() == (250.0, 10.0)
    assert axes.place(10.0, 1.0).toTuple() == (100.0, 60.0)


def test_rules_run_from_side_to_side_at_each_tick(qapp: object) -> None:
    axes = Axes(QRectF(60.0, 10.0, 200.0, 100.0), scale_over(0.0, 40.0), scale_over(0.0, 2.0))
    image = QImage(300, 160, QImage.Format.Format_RGB32)
    image.fill(LIGHT.paper)
    painter = QPainter(image)
    axes.paint(painter, LIGHT)
    painter.end()
    for tick in axes.up.ticks:
        at = axes.place(0.0, tick).toPoint()
        row = [image.pixelColor(x, at.y()).name() for x in (62, 150, 258)]
        assert row == [LIGHT.rule.lower()] * 3
    assert image.pixelColor(150, 97).name() == LIGHT.paper.lower()


@pytest.mark.parametrize("size", [(400, 300), (3, 3)])
def test_a_chart_has_room_for_its_numbers_and_lines(qtbot: QtBot, size: tuple[int, int]) -> None:
    chart = QWidget()
    qtbot.addWidget(chart)
    chart.resize(*size)
    room = room_in(chart, "0000", top=20.0, below=2.0, right=8.0)
    assert room.left() > chart.fontMetrics().horizontalAdvance("0000")
    assert room.width() >= 1.0
    assert room.height() >= 1.0
    if size[0] > 100:
        assert room.right() == chart.width() - 8.0
        assert chart.height() - room.bottom() == 2.0 * chart.fontMetrics().lineSpacing()


@pytest.mark.parametrize(
    ("low", "high", "ticks"),
    [
        (0.0, 0.3, (0.0, 0.1, 0.2, 0.3)),
        (0.0, 1.0, (0.0, 0.5, 1.0)),
        (23.0, 41.0, (20.0, 25.0, 30.0, 35.0, 40.0, 45.0)),
        (2690.0, 2720.0, (2690.0, 2700.0, 2710.0, 2720.0)),
    ],
)
def test_scales_have_plain_ticks(low: float, high: float, ticks: tuple[float, ...]) -> None:
    scale = scale_over(low, high)
    assert scale.ticks == pytest.approx(ticks)
    assert scale.share(scale.high) == 1.0
