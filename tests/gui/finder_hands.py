"""The panel "Ways to cut it" on a small stack."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.find.looking import LOOKING
from profilestack.desktop.find.panel import FindPanel
from profilestack.desktop.find.wishes_form import OWN
from profilestack.desktop.waiting import STOP
from profilestack.geometry.path import Path
from profilestack.jobs.find import FindResult
from profilestack.stack import Blank, PathTarget, Rectangle, Stack, StraightRun, Tolerance
from tests.planted import drawer

BITS = ("core-box-3-4in", "straight-1-2in", "straight-3-4in")


def small_stack() -> Stack:
    """A hollow of 3/4 in at the edge of a flat: some bits, few passes."""
    path = Path((0.0, 14.0)).line((6.0, 14.0)).arc((15.525, 4.475), (15.525, 14.0), "ccw")
    return Stack(
        blank=Blank(Rectangle(30.0, 18.0)),
        run=StraightRun(1000.0),
        title="A hollow",
        tolerance=Tolerance(0.3, 0.1),
        target=PathTarget(path.line((30.0, 4.475))),
        bits=tuple(bit for bit in drawer() if bit.id in BITS),
    )


def shown(qtbot: QtBot, document: Document) -> tuple[QWidget, FindPanel]:
    """The panel in a window of its own, asked for the document's own bits."""
    # the stand-in for a screen complains about windows whose least size grows; a dock does not
    host = QWidget()
    qtbot.addWidget(host)
    panel = FindPanel(document, host)
    host.resize(340, 1000)
    panel.resize(340, 1000)
    host.show()
    panel.form.bits.setCurrentIndex(panel.form.bits.findData(OWN))
    return host, panel


def looked(qtbot: QtBot, panel: FindPanel) -> FindResult:
    with qtbot.waitSignal(panel.background.ended, timeout=20_000):
        qtbot.mouseClick(panel.looking.button, Qt.MouseButton.LeftButton)
        assert panel.looking.button.text() == STOP
        assert panel.looking.state.text() == LOOKING
        assert panel.looking.bar.isHidden()  # no progress under two seconds
    assert panel.result is not None
    return panel.result
