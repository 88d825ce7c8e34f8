"""The panel of the stack in a window of its own, and what is read of and typed into its table."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField
from profilestack.desktop.stack_panel.cells import Column
from profilestack.desktop.stack_panel.panel import StackPanel
from profilestack.files.shipped import shipped_examples_dir
from profilestack.session.session import Session

Role = Qt.ItemDataRole
Key = Qt.Key
ALT, CTRL = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ControlModifier


def crown() -> Document:
    return Document(Session.open(shipped_examples_dir() / "cornice" / "crown.stack.toml"))


def shown(qtbot: QtBot, document: Document) -> StackPanel:
    panel = StackPanel(document)
    qtbot.addWidget(panel)
    panel.resize(900, 760)
    panel.show()
    panel.activateWindow()
    qtbot.waitUntil(panel.isActiveWindow)
    panel.table.setFocus()
    return panel


def text(panel: StackPanel, row: int, column: Column, role: int = Role.DisplayRole) -> str:
    said = panel.table.passes.index(row, column).data(role)
    assert isinstance(said, str)
    return said


def press(qtbot: QtBot, panel: StackPanel, key: Key, modifiers: object = None) -> None:
    held = modifiers or Qt.KeyboardModifier.NoModifier
    qtbot.keyClick(panel.table, key, held)  # type: ignore[call-overload]


def notes(document: Document) -> list[str]:
    return [single.note for single in document.stack.passes]


def opened_editor(panel: StackPanel, row: int, column: Column) -> QWidget:
    index = panel.table.passes.index(row, column)
    panel.table.setCurrentIndex(index)
    panel.table.edit(index)
    editor = panel.table.indexWidget(index)
    if editor is None:
        kinds = (LengthField, QComboBox, QLineEdit)
        editors = [w for kind in kinds for w in panel.table.viewport().findChildren(kind)]
        assert editors, "no editor was opened"
        return editors[0]
    return editor
