"""The only questions that stop the hand: which file, and what becomes of unsaved work."""

from __future__ import annotations

import os
from enum import Enum
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from profilestack.files.targets import READERS

STACKS = "Stacks (*.stack.toml);;All files (*)"


class Answer(Enum):
    """What becomes of unsaved work."""

    SAVE = "save"
    DISCARD = "discard"
    CANCEL = "cancel"


def files_to_open(parent: QWidget, folder: str) -> tuple[Path, ...]:
    """The stacks that the user wants to open; none where the question is closed."""
    names, _ = QFileDialog.getOpenFileNames(parent, "Open stacks", folder, STACKS)
    return tuple(map(Path, names))


def drawing_to_open(parent: QWidget, folder: str) -> Path | None:
    """The drawing, table of points or picture that the user wants to read."""
    endings = " ".join(f"*{ending}" for ending in READERS)
    kinds = f"Drawings, points, pictures ({endings});;All files (*)"
    name, _ = QFileDialog.getOpenFileName(parent, "Wanted profile from a drawing", folder, kinds)
    return Path(name) if name else None


def file_to_save(parent: QWidget, folder: str, name: str) -> Path | None:
    """The name that the user wants to save a stack under; replacing a file is asked for."""
    chosen, _ = QFileDialog.getSaveFileName(
        parent, "Save the stack as", os.path.join(folder, name), STACKS
    )
    return Path(chosen) if chosen else None


def what_becomes_of(parent: QWidget, name: str) -> Answer:
    """What becomes of a document that is not saved, when its window closes."""
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Warning)
    box.setWindowTitle("Not saved")
    box.setText(f"{name} has changes that are not saved.")
    box.setInformativeText("Without saving they are gone when the window closes.")
    button = QMessageBox.StandardButton
    box.setStandardButtons(button.Save | button.Discard | button.Cancel)
    box.setDefaultButton(button.Save)
    box.setEscapeButton(button.Cancel)
    chosen = button(box.exec())
    return {button.Save: Answer.SAVE, button.Discard: Answer.DISCARD}.get(chosen, Answer.CANCEL)
