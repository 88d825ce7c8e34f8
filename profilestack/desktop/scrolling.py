"""Parts below each other, to be scrolled where the window is low."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget


def scrolled(*parts: QWidget, whole: bool = False) -> QScrollArea:
    """An area with the parts in it; Tab goes to the parts, not to the area.

    ``whole``: it asks for the room of all parts, the last of which takes what is left over, and
    scrolls up and down alone. Otherwise the room below the parts stays free.
    """
    inside = QWidget()
    box = QVBoxLayout(inside)
    box.setContentsMargins(8, 8, 8, 8)
    box.setSpacing(8)
    for part in parts:
        box.addWidget(part)
    area = _Whole() if whole else QScrollArea()
    if whole:
        box.setStretchFactor(parts[-1], 1)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    else:
        box.addStretch()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(inside)
    return area


class _Whole(QScrollArea):
    """Asks for all the room of what is in it."""

    def sizeHint(self) -> QSize:
        """As high as the words are at this width."""
        part = self.widget()
        assert part is not None, "put in at once"
        wide = self.viewport().width()
        high = part.heightForWidth(wide) if part.hasHeightForWidth() else part.sizeHint().height()
        return QSize(part.sizeHint().width(), max(high, part.minimumSizeHint().height()))
