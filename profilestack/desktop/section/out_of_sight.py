"""What the section says where nothing of the blank is in sight."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QAction, QColor, QKeySequence, QPainter
from PySide6.QtWidgets import QWidget

from profilestack.desktop.axis import Axis
from profilestack.desktop.theme import theme_now
from profilestack.session.sight import is_blank_in_sight
from profilestack.stack import Blank

FIT = "fit"
"""The name of the window's action that shows the whole blank."""


def paint_out_of_sight(
    painter: QPainter, view: QWidget, axis: Axis, blank: Blank, room: QRectF
) -> None:
    """A quiet line in the middle of the room, where no part of the blank is in it."""
    low = (axis.x_at(room.left()), axis.z_at(room.bottom()))
    high = (axis.x_at(room.right()), axis.z_at(room.top()))
    if is_blank_in_sight(blank, low, high):
        return
    theme, flags = theme_now(), int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap)
    text = out_of_sight_said(view)
    inner = room.adjusted(16.0, 16.0, -16.0, -16.0)
    words = painter.boundingRect(inner, flags, text)
    painter.fillRect(words.adjusted(-8.0, -8.0, 8.0, 8.0), QColor(theme.paper))
    painter.setPen(QColor(theme.quiet))
    painter.drawText(inner, flags, text)


def out_of_sight_said(view: QWidget) -> str:
    """The line; in a window it names the key that brings the blank back."""
    said = "The blank is out of sight."
    action = view.window().findChild(QAction, FIT)
    if not isinstance(action, QAction):
        return said
    does = action.text().replace("&", "")
    keys = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
    return f"{said} {does}: {keys}" if keys else f"{said} The menu View has “{does}”."
