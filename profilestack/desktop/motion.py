"""Whether things may move on the screen: not where the system asks for less motion."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QStyle, QWidget

LESS = "asksForLessMotion"
"""A property of the application: whether the system said so, see ``less_motion``."""


def is_wanted(widget: QWidget) -> bool:
    """Whether something may move on a widget: it is seen, and neither style nor system objects."""
    app = QCoreApplication.instance()
    if app is None or not is_on_screen() or not widget.isVisible() or app.property(LESS):
        return False
    hint = QStyle.StyleHint.SH_Widget_Animation_Duration
    return widget.style().styleHint(hint, None, widget) > 0


def is_on_screen() -> bool:
    """Whether there is a screen that somebody could look at."""
    return QGuiApplication.platformName() not in ("offscreen", "minimal")
