"""The wanted profile in a small drawing of its own; its points can be dragged."""

from __future__ import annotations

import math

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.shapes import chain_shape
from profilestack.desktop.theme import theme_now
from profilestack.geometry.path import Path, Point
from profilestack.session.pass_edits import nudge_step
from profilestack.session.path_edits import middle_of, points_of
from profilestack.stack import Blank

HANDLE = 24.0
"""So large is what a point can be taken by [px]."""

CHORD = 0.01

ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


class PathDrawing(QWidget):
    """Blank and path; with handles for points (round) and for the bows of pieces (square).

    What is dragged is told as it moves and once when it is let go; nothing is changed here.
    """

    point_moved = Signal(int, object, bool)
    """Point k is to be at a place [mm]; whether the hand has let go."""

    bow_moved = Signal(int, object, bool)
    """Piece k is to lead through a place [mm]; whether the hand has let go."""

    chosen_changed = Signal(int)
    """Another point is chosen."""

    let_go = Signal()
    """What was dragged is to be as it was."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._blank: Blank | None = None
        self._path: Path | None = None
        self._editable = False
        self._held: tuple[str, int] | None = None
        self._moved = False
        self.axis = Axis(self)
        self.chosen = 0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMouseTracking(True)
        self.setAccessibleName("Wanted profile")
        self.setAccessibleDescription("What is drawn here stands as numbers beside it")

    def show_path(self, blank: Blank, path: Path | None, editable: bool) -> None:
        """Draw a path in its blank; ``editable`` gives it handles."""
        self._blank, self._path = blank, path
        if editable != self._editable:
            self._editable = editable
            self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if editable else Qt.FocusPolicy.NoFocus)
            self.setToolTip(
                "Drag round points to move them, square ones to bend a piece.\n"
                "Arrow keys move the chosen point (Shift: ten steps, Ctrl: a tenth); "
                "Page Up and Page Down choose another"
                if editable
                else ""
            )
        if path is not None:
            self.chosen = min(self.chosen, len(path.steps))
        if self._held is None:
            self._fit()
        self.update()

    def choose(self, index: int) -> None:
        """Choose a point."""
        if self._path is not None and index != self.chosen and 0 <= index <= len(self._path.steps):
            self.chosen = index
            self.chosen_changed.emit(index)
            self.update()

    def place_of(self, point: Point) -> QPointF:
        """Where a place of the section lies here [px]."""
        return QPointF(self.axis.pixel_of_x(point[0]), self.axis.pixel_of_z(point[1]))

    def sizeHint(self) -> QSize:
        """Twelve lines high."""
        line = self.fontMetrics().lineSpacing()
        return QSize(16 * line, 12 * line)

    def resizeEvent(self, event: QEvent) -> None:
        """Show all of it."""
        self._fit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw blank, path, handles."""
        theme = theme_now()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(theme.paper))
        if self._blank is not None:
            painter.setPen(QPen(QColor(theme.quiet), 1.0))
            painter.setBrush(QColor(theme.blank))
            painter.drawPolygon(chain_shape(self._blank.outline().flatten(CHORD), self.axis))
        if self._path is not None and self._path.steps:
            painter.setPen(QPen(QColor(theme.target), 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawPolyline(chain_shape(self._path.flatten(CHORD), self.axis))
            if self._editable:
                self._paint_handles(painter)
        frame = theme.ink if self.hasFocus() else theme.rule
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(frame), 1.0))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a handle."""
        found = self._handle_at(event.position())
        if found is None or event.button() != Qt.MouseButton.LeftButton:
            return
        self._held, self._moved = found, False
        if found[0] == "point":
            self.choose(found[1])
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Tell where what is held is to be."""
        if self._held is None:
            over = self._handle_at(event.position()) is not None
            self.setCursor(Qt.CursorShape.SizeAllCursor if over else Qt.CursorShape.ArrowCursor)
            return
        self._moved = True
        self._tell(event.position(), False)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        if self._held is not None:
            if self._moved:
                self._tell(event.position(), True)
            self._held = None
            self._fit()
            self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows move the chosen point; Page Up and Page Down choose; Escape lets go."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape and self._held is not None:
            self._held = None
            self.let_go.emit()
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self.choose(self.chosen + (1 if key == Qt.Key.Key_PageDown else -1))
        elif key in ARROWS and self._path is not None and self._editable:
            modifiers = event.modifiers()
            step = nudge_step(self._document.units)
            step *= 10.0 if modifiers & Qt.KeyboardModifier.ShiftModifier else 1.0
            step *= 0.1 if modifiers & Qt.KeyboardModifier.ControlModifier else 1.0
            x, z = points_of(self._path)[self.chosen]
            across, up = ARROWS[key]
            self.point_moved.emit(self.chosen, (x + across * step, z + up * step), True)
        else:
            super().keyPressEvent(event)

    def _tell(self, pixel: QPointF, is_last: bool) -> None:
        assert self._held is not None, "something is held"
        kind, index = self._held
        step = nudge_step(self._document.units)
        # under the hand whole steps are meant
        x, z = (
            round(value / step) * step
            for value in (self.axis.x_at(pixel.x()), self.axis.z_at(pixel.y()))
        )
        signal = self.point_moved if kind == "point" else self.bow_moved
        signal.emit(index, (x, z), is_last)

    def _handle_at(self, pixel: QPointF) -> tuple[str, int] | None:
        """The nearest handle; points before bows."""
        if self._path is None or not self._editable:
            return None
        points = [("point", k, p) for k, p in enumerate(points_of(self._path))]
        bows = [("bow", k, middle_of(piece)) for k, piece in enumerate(self._path.segments)]
        for handles in (points, bows):
            near = min(handles, key=lambda handle: self._distance(handle[2], pixel))
            if self._distance(near[2], pixel) <= HANDLE / 2.0:
                return near[0], near[1]
        return None

    def _distance(self, point: Point, pixel: QPointF) -> float:
        at = self.place_of(point)
        return math.hypot(at.x() - pixel.x(), at.y() - pixel.y())

    def _fit(self) -> None:
        boxes = [
            chain.flatten(CHORD)
            for chain in (self._blank.outline() if self._blank else None, self._path)
            if chain is not None and chain.steps
        ]
        if boxes:
            low = (min(p[:, 0].min() for p in boxes), min(p[:, 1].min() for p in boxes))
            high = (max(p[:, 0].max() for p in boxes), max(p[:, 1].max() for p in boxes))
            self.axis.fit(low, high, self.width(), self.height())

    def _paint_handles(self, painter: QPainter) -> None:
        assert self._path is not None, "there is a path"
        theme = theme_now()
        painter.setPen(QPen(QColor(theme.target), 1.5))
        painter.setBrush(QColor(theme.paper))
        for piece in self._path.segments:
            at = self.place_of(middle_of(piece))
            painter.drawRect(QRectF(at.x() - 3.0, at.y() - 3.0, 6.0, 6.0))
        for index, point in enumerate(points_of(self._path)):
            is_chosen = index == self.chosen
            painter.setPen(QPen(QColor(theme.ink), 2.0 if is_chosen else 1.5))
            painter.setBrush(QColor(theme.chosen if is_chosen else theme.paper))
            size = 6.0 if is_chosen else 4.5
            painter.drawEllipse(self.place_of(point), size, size)
