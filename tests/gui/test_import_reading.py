"""While a file is read it is said, and can be left off; a picture is shown with its thin lines."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path as FilePath

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.target import import_view
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.target.picture_marks import PictureMarks
from profilestack.files.targets.picture_view import PictureView
from profilestack.jobs.target import TargetReport, TargetRequest, make_target
from profilestack.progress import Progress
from tests.gui.target_hands import document_with, read, shown
from tests.unit.files.targets.drawings import dxf_of_pieces
from tests.unit.targets.profiles import STEPPED

BUTTON = Qt.MouseButton.LeftButton


@pytest.fixture
def panel(qtbot: QtBot, qapp: QApplication) -> Iterator[TargetPanel]:
    host, panel = shown(qtbot, document_with())
    yield panel
    finish_under(host)


@pytest.fixture
def drawing(tmp_path: FilePath) -> FilePath:
    file = tmp_path / "step.dxf"
    file.write_bytes(dxf_of_pieces(STEPPED, "R2010"))
    return file


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> threading.Event:
    """Reading goes on only once this is set, or nobody waits for it."""
    gate = threading.Event()

    def slowly(request: TargetRequest, progress: Progress) -> TargetReport:
        while not gate.wait(0.01):
            progress.is_stopped()
        return make_target(request, progress)

    monkeypatch.setattr(import_view, "make_target", slowly)
    return gate


def test_it_is_said_at_once_that_a_file_is_read(
    qtbot: QtBot, panel: TargetPanel, drawing: FilePath, gate: threading.Event
) -> None:
    panel.import_file(drawing)
    wait = panel.importing.wait
    assert wait.isHidden(), "what is read in a moment does not flicker"
    assert wait.late.interval() <= 200
    qtbot.waitUntil(wait.isVisible, timeout=1000)
    assert wait.words.text().startswith("Reading the drawing")
    assert wait.cancel.isVisible()
    assert not panel.importing.take_it.isEnabled()
    assert "still being read" in panel.importing.take_it.toolTip()
    with qtbot.waitSignal(wait.ticks.timeout, timeout=3000):
        pass
    assert wait.words.text().endswith("1 s")
    with qtbot.waitSignal(panel.importing.background.ended, timeout=20_000):
        gate.set()
    assert wait.isHidden()
    assert panel.importing.take_it.isEnabled()


def test_reading_is_left_off_and_begun_again(
    qtbot: QtBot, panel: TargetPanel, drawing: FilePath, gate: threading.Event
) -> None:
    panel.import_file(drawing)
    importing, wait = panel.importing, panel.importing.wait
    qtbot.waitUntil(wait.isVisible, timeout=1000)
    qtbot.mouseClick(wait.cancel, BUTTON)
    assert not importing.background.is_busy
    assert "cancelled" in wait.words.text()
    assert wait.cancel.isHidden()
    assert "Nothing is read" in importing.take_it.toolTip()
    gate.set()
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        qtbot.mouseClick(wait.repeat, BUTTON)
    assert importing.report is not None
    assert wait.isHidden()


def test_what_was_read_with_other_answers_is_not_taken(
    qtbot: QtBot, panel: TargetPanel, drawing: FilePath, gate: threading.Event
) -> None:
    gate.set()
    read(qtbot, panel, drawing)
    importing = panel.importing
    assert importing.take_it.isEnabled()
    gate.clear()
    importing.read()
    assert not importing.take_it.isEnabled()
    importing.take()
    assert importing.file is not None
    qtbot.waitUntil(importing.wait.isVisible, timeout=1000)
    qtbot.mouseClick(importing.wait.cancel, BUTTON)
    assert importing.report is None
    importing.close_file()
    assert importing.wait.isHidden()


def paper_with(qtbot: QtBot, tones: np.ndarray) -> PictureMarks:  # type: ignore[type-arg]
    paper = PictureMarks()
    qtbot.addWidget(paper)
    paper.resize(300, 200)
    rows, columns = tones.shape
    paper.show_picture(PictureView(columns, rows, tones))
    paper.show()
    return paper


def test_no_thin_line_of_a_large_picture_is_lost(qtbot: QtBot) -> None:
    tones = np.full((1200, 1800), 240, dtype=np.uint8)
    lines = range(50, 1750, 97)
    for x in lines:
        tones[:, x] = 0
    paper = paper_with(qtbot, tones)
    image = paper.grab().toImage()
    ratio = image.width() / paper.width()
    for x in lines:
        at = paper.pixel_of((x + 0.5, 600.5)) * ratio
        near = [image.pixelColor(int(at.x()) + k, int(at.y())).lightness() for k in (-1, 0, 1)]
        assert min(near) < 225, f"the line at {x} pixels is not seen"


def test_a_picture_is_smoothed_once_for_each_size(qtbot: QtBot) -> None:
    paper = paper_with(qtbot, np.zeros((1200, 1800), dtype=np.uint8))
    paper.grab()
    first = paper._smoothed
    assert first is not None
    assert first.width() < 1800
    paper.pan(QPointF(5.0, 5.0))
    paper.grab()
    assert paper._smoothed is first
    paper.zoom(1.5, QPointF(10.0, 10.0))
    paper.grab()
    assert paper._smoothed is not None
    assert paper._smoothed.width() > first.width()


def test_the_wheel_stays_with_the_picture_that_has_the_focus(
    qtbot: QtBot, panel: TargetPanel
) -> None:
    marks = panel.importing.marks
    paper = marks.picture
    panel.importing.file = FilePath("scan.png")
    panel.importing.show()
    marks.show()
    marks.show_picture(PictureView(640, 440, np.full((440, 640), 90, dtype=np.uint8)))
    paper.setFocus()
    at = QPointF(50.0, 60.0)

    def turn(notches: int) -> bool:
        event = QWheelEvent(
            at, paper.mapToGlobal(at), QPoint(), QPoint(0, 120 * notches),
            Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        QApplication.sendEvent(paper, event)
        return event.isAccepted()

    whole = paper.axis.scale
    assert turn(2)
    assert paper.axis.scale > whole
    for _ in range(6):
        assert turn(-2)
    assert paper.axis.scale == whole, "smaller shows nothing more"
    paper.show_picture(None)
    assert turn(-1), "nor does the form scroll while the picture is read"
