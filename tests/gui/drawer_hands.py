"""The panel of the bits in a window of its own, and what is typed into its form."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.drawer.panel import DrawerPanel
from profilestack.session.session import Session
from tests.shop import lines, stack_of

GROOVE = lines((0, 30), (26, 30), (26, 28), (34, 28), (34, 30), (60, 30))


def document_of(**other: object) -> Document:
    return Document(Session(stack_of(**other)[0]))


def shown(qtbot: QtBot, document: Document) -> DrawerPanel:
    panel = DrawerPanel(document)
    document.setParent(panel)
    qtbot.addWidget(panel)
    panel.resize(360, 800)
    panel.show()
    qtbot.waitExposed(panel)
    return panel


def know(qtbot: QtBot, panel: DrawerPanel) -> None:
    """Wait until all is known of the bits that are shown."""
    qtbot.waitUntil(lambda: not panel.at_hand.reaching.is_busy, timeout=20_000)


def fill(panel: DrawerPanel, word: str, text: str) -> None:
    field = panel.form.lines.rows[word].field
    assert isinstance(field, QLineEdit)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)


def inked(picture: QImage, panel: DrawerPanel, bit_id: str) -> float:
    """The share of dark pixels among those where the bit's edge is."""
    room = panel.at_hand.view.visualRect(panel.at_hand.model.index_of(bit_id))
    ratio = picture.devicePixelRatio()
    middle = room.center().x()
    column = [
        picture.pixelColor(round(middle * ratio), round(y * ratio)).lightness()
        for y in range(room.top() + 4, room.bottom() - 3 * panel.fontMetrics().height())
    ]
    return sum(value < 128 for value in column) / len(column)
