"""What the section shows, and what it says of the place under the pointer."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from profilestack.desktop.bench import Bench
from profilestack.desktop.section.keys import KEYS
from profilestack.desktop.section.tips import tip_at
from profilestack.desktop.theme import theme_now
from profilestack.finding.advice import Stretch
from profilestack.geometry.path import Path
from profilestack.stack import Pass
from tests.gui.benches import WIDTH, HandOver, bench_on, board
from tests.gui.section_hands import board_shown


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return board_shown(qtbot)


@pytest.fixture
def hand(bench: Bench) -> HandOver:
    return HandOver(bench.section, bench)


def test_what_cannot_be_cut_shows_the_blank_and_the_wanted_profile(qtbot: QtBot) -> None:
    bench = bench_on(board(target=Path((0.0, 25.0)).line((WIDTH + 10.0, 25.0))))
    qtbot.addWidget(bench)
    assert bench.document.report is None
    picture = bench.section.grab().toImage()
    ratio = picture.devicePixelRatio()

    def color_at(x: float, z: float) -> QColor:
        at = QPointF(bench.axis.pixel_of_x(x), bench.axis.pixel_of_z(z)) * ratio
        return picture.pixelColor(at.toPoint())

    theme = theme_now()
    for x in (20.0, WIDTH + 5.0):  # the line lies between two rows of pixels
        assert color_at(x, 25.0).blue() > color_at(x, 25.0).red() + 60
    assert color_at(20.0, 10.0) != QColor(theme.paper)
    assert color_at(WIDTH + 5.0, 10.0) == QColor(theme.paper)


def test_pointing_lights_a_pass_and_leaving_lets_go(bench: Bench, hand: HandOver) -> None:
    hand.move(hand.over(20.3, 35.0))
    assert bench.document.pointed == 0
    hand.move(hand.over(40.0, 10.0))
    assert bench.document.pointed is None
    bench.section.grab()
    number = next(b for b in bench.section.balloons if b.index == 1)
    hand.move(number.middle)
    assert bench.document.pointed == 1


def test_the_section_has_a_name_and_says_its_keys(bench: Bench) -> None:
    for part in (bench.light, bench.light.slider, bench.section, bench.leftover):
        assert part.accessibleName()
        assert part.accessibleDescription()
    assert "Escape" in bench.section.accessibleDescription()
    assert bench.section.focusPolicy() & Qt.FocusPolicy.TabFocus


def test_what_no_bit_reaches_is_marked_and_says_why(bench: Bench, hand: HandOver) -> None:
    document = bench.document
    document.edit(board(Pass("flat", 40.0, 15.0)), "One groove")
    document.unreached = (Stretch((60.0, 25.0), (70.0, 25.0), 1.0, "a corner is too tight"),)
    document.findings_changed.emit()
    at = hand.over(65.0, 25.0)
    assert tip_at(bench.section, at) == "Not reached: a corner is too tight"
    assert tip_at(bench.section, hand.over(50.0, 25.0)) == ""
    row = bench.section.grab().toImage()
    colors = {row.pixelColor(round(at.x()) + off, round(at.y()) - 2).name() for off in range(12)}
    assert theme_now().leftover.lower() in colors


def test_a_number_says_what_its_pass_is(bench: Bench) -> None:
    bench.section.grab()
    number = next(b for b in bench.section.balloons if b.index == 1)
    tip = tip_at(bench.section, number.middle)
    assert "Pass 2: nose, edge to bit centre 55.30 mm, below face 11.70 mm" in tip
    assert tip_at(bench.section, QPointF(2.0, 2.0)) == KEYS
