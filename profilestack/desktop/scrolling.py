"""Parts below each other, to be scrolled where the window is low."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget


def scrolled(*parts: QWidget) -> QScrollArea:
    """An area with the parts in it; Tab goes to the parts, not to the area."""
    inside = QWidget()
    box = QVBoxLayout(inside)
    box.setContentsMargins(8, 8, 8, 8)
    box.setSpacing(8)
    for part in parts:
        box.addWidget(part)
    box.addStretch()
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(inside)
    return area
