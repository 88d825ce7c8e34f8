"""Words that change under the hand without the window being laid out anew."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.still import StillLabel, StillWords


class LayoutRequests(QObject):
    """Counts how often a widget is asked to lay out its parts anew."""

    def __init__(self, watched: QWidget) -> None:
        super().__init__(watched)
        self.count = 0
        watched.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        self.count += event.type() == QEvent.Type.LayoutRequest
        return False


def boxed(qtbot: QtBot, *parts: QWidget) -> QWidget:
    box = QWidget()
    rows = QVBoxLayout(box)
    for part in parts:
        rows.addWidget(part)
    rows.addStretch()
    qtbot.addWidget(box)
    box.resize(300, 200)
    box.show()
    qtbot.waitExposed(box)
    return box


def test_a_label_asks_for_room_only_where_it_needs_other_lines(qtbot: QtBot) -> None:
    label = StillLabel()
    label.say("It does not fit: overcut 0.10 mm, 0.05 allowed.")
    box = boxed(qtbot, label)
    qtbot.wait(1)
    asked = LayoutRequests(box)
    for hundredths in range(10, 60):
        label.say(f"It does not fit: overcut 0.{hundredths} mm, 0.05 allowed.")
        QGuiApplication.processEvents()
    assert asked.count == 0
    one_line = label.height()
    label.say("It does not fit: overcut 0.60 mm, 0.05 allowed. " * 6)
    qtbot.waitUntil(lambda: label.height() > 2 * one_line)
    assert asked.count > 0
    assert label.height() == label.heightForWidth(label.width())


def test_a_label_is_copied_and_read_out(qtbot: QtBot) -> None:
    label = StillLabel()
    box = boxed(qtbot, label)
    label.say("It fits.")
    (copy,) = label.actions()
    copy.trigger()
    assert QGuiApplication.clipboard().text() == "It fits."
    assert box.findChild(StillLabel).accessibleName() == "It fits."


def test_a_line_never_asks_for_room(qtbot: QtBot) -> None:
    words = StillWords("Under the pointer", "x 000.00 mm")
    box = boxed(qtbot, words)
    qtbot.wait(1)
    asked, wide = LayoutRequests(box), words.width()
    words.setText("a line that is longer than all that is usual here, and then some more of it")
    QGuiApplication.processEvents()
    assert (asked.count, words.width()) == (0, wide)
