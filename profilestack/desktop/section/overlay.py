"""What moves with the pointer: the cursor line, the two numbers of a dragged pass, its contacts."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from profilestack.cutting.stroke import silhouette_points
from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.inks import pen
from profilestack.desktop.theme import Theme
from profilestack.jobs.snapping import NEAR, contacts
from profilestack.session.moving import Move
from profilestack.session.whereabouts import length_text

FAR = 18.0
"""From the pointer to its numbers [px]."""


def paint_cursor(
    painter: QPainter, document: Document, axis: Axis, theme: Theme, height: float
) -> None:
    """The line that runs through all three views."""
    if document.cursor is None:
        return
    x = round(axis.pixel_of_x(document.cursor[0])) + 0.5
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.setPen(pen(theme.ink, 1.0, (2.0, 3.0)))
    painter.drawLine(QPointF(x, 0.0), QPointF(x, height))


def paint_spot(painter: QPainter, document: Document, axis: Axis, theme: Theme) -> None:
    """A small cross where the cursor is on the section."""
    if document.cursor is None:
        return
    x, y = axis.pixel_of_x(document.cursor[0]), axis.pixel_of_z(document.cursor[1])
    painter.setPen(pen(theme.ink, 1.0))
    painter.drawLine(QPointF(x - 5.0, y), QPointF(x + 5.0, y))


def paint_contacts(painter: QPainter, move: Move, axis: Axis, theme: Theme) -> None:
    """Marks where the moved bit touches the wanted profile, without cutting into it."""
    offset, depth = move.snap.offset, move.snap.depth
    deepest = move.ground.deepest(offset)
    if deepest is None or abs(depth - deepest) > NEAR:
        return  # it hangs free, or cuts too deep: that is no touching
    places = contacts(move.ground, silhouette_points(move.bit, NEAR / 2.0), offset, depth)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for x, z in places:
        at = QPointF(axis.pixel_of_x(x), axis.pixel_of_z(z))
        painter.setPen(pen(theme.paper, 5.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(at, 5.0, 5.0)
        painter.setPen(pen(theme.inside, 2.5))
        painter.drawEllipse(at, 5.0, 5.0)


def paint_numbers(
    painter: QPainter, move: Move, units: str, theme: Theme, font: QFont, at: QPointF, room: QRectF
) -> None:
    """Offset and depth at the pointer, and what holds them."""
    lines = numbers_of(move, units)
    metrics = QFontMetricsF(font)
    wide = max(metrics.horizontalAdvance(text) for text, _ in lines) + 16.0
    high = metrics.height() * len(lines) + 12.0
    # over the pointer, where the bit itself is: the wood under it stays in sight
    box = QRectF(at.x() + FAR, at.y() - FAR - high, wide, high)
    if box.right() > room.right() - 4.0:
        box.moveRight(max(at.x() - FAR, room.left() + 4.0 + wide))
    if box.top() < room.top() + 4.0:
        box.moveTop(at.y() + FAR)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(pen(theme.ink, 1.0))
    painter.setBrush(QColor(theme.paper))
    painter.drawRoundedRect(box, 4.0, 4.0)
    painter.setFont(font)
    at = QPointF(box.x() + 8.0, box.y() + 6.0 + metrics.ascent())
    for text, is_quiet in lines:
        painter.setPen(pen(theme.quiet if is_quiet else theme.ink))
        painter.drawText(at, text)
        at += QPointF(0.0, metrics.height())


def numbers_of(move: Move, units: str) -> list[tuple[str, bool]]:
    """The lines at the pointer, and whether each is a quiet one."""
    values = (move.snap.offset, move.snap.depth)
    words = ("edge to bit centre", "below face")
    lines = []
    for which in (0, 1):
        text = f"{words[which]}  {length_text(values[which], units)}"
        if move.typed[which] or (move.is_typing and move.typing == which):
            caret = "▏" if move.typing == which else ""
            text = f"{words[which]}  {move.typed[which]}{caret} {units}"
        lines.append((text, False))
    trouble = move.trouble(units)
    if trouble:
        lines.append((trouble, True))
    elif move.snap.words:
        lines.append((f"→ {move.snap.words}", True))
    return lines
