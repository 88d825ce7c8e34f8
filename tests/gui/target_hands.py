"""The panel of the wanted profile in a window of its own, and a hand that works in it by keys."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.target.panel import TargetPanel
from profilestack.geometry.path import Path
from profilestack.session.new_board import new_board
from profilestack.session.session import Session
from profilestack.stack import MemberTarget, PathTarget
from profilestack.targets.members import MemberColumn

COVE = (
    Path((0.0, 18.0)).line((10.0, 18.0)).arc((18.0, 10.0), (18.0, 18.0), "ccw").line((60.0, 10.0))
)


def document_with(target: PathTarget | MemberTarget | None = None) -> Document:
    return Document(Session(replace(new_board("mm"), target=target)))


def with_path(document: Document, path: Path = COVE) -> None:
    document.edit(replace(document.stack, target=PathTarget(path)), "Draw")


def column_of(document: Document) -> MemberColumn:
    target = document.session.settled.target
    assert isinstance(target, MemberTarget)
    return target.column


def path_of(document: Document) -> Path:
    target = document.session.settled.target
    assert isinstance(target, PathTarget)
    return target.typed


def shown(qtbot: QtBot, document: Document) -> tuple[QWidget, TargetPanel]:
    host = QWidget()
    qtbot.addWidget(host)
    panel = TargetPanel(document, host)
    host.resize(340, 1100)
    panel.resize(340, 1100)
    host.show()
    host.activateWindow()
    qtbot.waitUntil(host.isActiveWindow)
    return host, panel


class Keys:
    """A hand that has no mouse: Tab from field to field, and typing."""

    def __init__(self, qtbot: QtBot, panel: TargetPanel) -> None:
        self.qtbot = qtbot
        panel.build.setFocus()

    def go_to(self, widget: QWidget) -> None:
        for _ in range(60):
            if widget.hasFocus():
                return
            self.press(Qt.Key.Key_Tab)
        raise AssertionError(f"Tab does not lead to {widget.accessibleName() or widget}")

    def press(
        self, key: Qt.Key, modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier
    ) -> None:
        self.qtbot.keyClick(QApplication.focusWidget(), key, modifiers)

    def choose(self, box: QComboBox, text: str) -> None:
        self.go_to(box)
        for _ in range(box.count()):
            self.press(Qt.Key.Key_Up)
        while not box.currentText().startswith(text):
            self.press(Qt.Key.Key_Down)

    def enter(self, line: QLineEdit, text: str) -> None:
        self.go_to(line)
        line.selectAll()
        self.qtbot.keyClicks(line, text)
        self.press(Qt.Key.Key_Return)

    def push(self, button: QAbstractButton) -> None:
        self.go_to(button)
        self.press(Qt.Key.Key_Space)


def read(qtbot: QtBot, panel: TargetPanel, file: FilePath) -> None:
    with qtbot.waitSignal(panel.importing.background.ended, timeout=20_000):
        panel.import_file(file)
