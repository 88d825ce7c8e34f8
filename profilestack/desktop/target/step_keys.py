"""The keys that take a step back and do it again, for a part that keeps steps of its own."""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QKeyCombination, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence

AGAIN = QKeyCombination(Qt.KeyboardModifier.ControlModifier, Qt.Key.Key_Y)
"""Does it again on every system, beside what is usual there."""


def step_of(event: QKeyEvent) -> Literal["back", "again"] | None:
    """What a key asks for; None: something else."""
    if event.matches(QKeySequence.StandardKey.Undo):
        return "back"
    if event.matches(QKeySequence.StandardKey.Redo) or event.keyCombination() == AGAIN:
        return "again"
    return None
