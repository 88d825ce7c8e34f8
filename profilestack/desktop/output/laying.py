"""How a window of sheets is laid out: what is asked at the left, the sheets beside it."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget


def lay_out_sheets(window: QWidget, notices: QWidget, side: QVBoxLayout, view: QWidget) -> None:
    """Messages on top, then ``side`` with the choices, and the sheets in ``view``."""
    across = QHBoxLayout()
    across.setContentsMargins(16, 16, 16, 16)
    across.setSpacing(16)
    across.addLayout(side, 1)
    across.addWidget(view, 3)
    box = QVBoxLayout(window)
    box.setContentsMargins(0, 0, 0, 0)
    box.addWidget(notices)
    box.addLayout(across, 1)
    window.resize(1000, 720)
