"""The two marks on a picture that its scale is taken by: put, dragged, moved by the arrow keys."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QLineF, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter

from profilestack.desktop.target.mark_drawing import draw_line, draw_mark
from profilestack.desktop.target.path_drawing import HANDLE
from profilestack.desktop.target.picture_paper import LARGER, SMALLER, WHOLE, PicturePaper
from profilestack.desktop.target.step_keys import step_of
from profilestack.geometry.path import Point
from profilestack.session.picture_marks import LETTERS, Marks

STEPS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, -1.0),
    Qt.Key.Key_Down: (0.0, 1.0),
}
"""What the arrow keys move a mark by [pixels of the picture]."""

PUTS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
CHOOSES = (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)
REMOVES = (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)

HINT = (
    "Click to put mark A, then mark B; drag them. The wheel makes the picture larger, "
    "dragging beside the marks moves it.\n"
    "Keys: Enter puts a mark in the middle, arrows move it by a pixel (Shift: ten, Ctrl: a tenth), "
    "Page Up and Page Down choose A or B, Delete takes it away; + and - change the size, "
    "0 shows all; Ctrl+Z takes the last change of the marks back, Ctrl+Shift+Z does it again"
)


class PictureMarks(PicturePaper):
    """A picture with marks A and B. What the hand does is told; nothing is changed here."""

    mark_put = Signal(int, object)
    """Mark 0 (A) or 1 (B) is to be at a place [pixels]; None: nowhere."""

    step_asked = Signal(str)
    """The last change of the marks is to be taken "back", or done "again"."""

    def __init__(self) -> None:
        super().__init__()
        self.marks = Marks()
        self.label = ""
        self.chosen = 0
        self.moves = 0
        """Counts what the hand does: one drag, or one run of arrow keys, is one move."""
        self._runs = False
        self._held: int | None = None
        self._former: Point | None = None
        self._grip = QPointF()
        self._panned_from: QPointF | None = None
        self.setMouseTracking(True)
        self.setAccessibleName("Picture with marks A and B")
        self.setAccessibleDescription(HINT)
        self.setToolTip(HINT)

    def show_marks(self, marks: Marks, label: str) -> None:
        """Draw marks, and what stands at the line between them."""
        self.marks, self.label = marks, label
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of a mark, put one that is free, or take hold of the picture."""
        if event.button() != Qt.MouseButton.LeftButton or not self.has_picture:
            return
        at, which = event.position(), self._mark_at(event.position())
        if which is None:
            which = self.marks.next_free
            if which is None or not self._is_on_picture(at):
                self._panned_from = at
                return
            self._hold(which, QPointF())
            self.mark_put.emit(which, self.place_at(at))
        else:
            place = self.marks.places[which]
            assert place is not None, "a mark that was hit is placed"
            self._hold(which, self.pixel_of(place) - at)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move what is held."""
        at = event.position()
        if self._held is not None:
            self.mark_put.emit(self._held, self.place_at(at + self._grip))
        elif self._panned_from is not None:
            self.pan(at - self._panned_from)
            self._panned_from = at
        elif self._mark_at(at) is not None:
            self.setCursor(Qt.CursorShape.SizeAllCursor)
        else:
            free = self.marks.next_free is not None and self._is_on_picture(at)
            self.setCursor(Qt.CursorShape.CrossCursor if free else Qt.CursorShape.OpenHandCursor)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A run of arrow keys ends."""
        self._runs = False
        super().focusOutEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        self._held = self._panned_from = None
        self.update()

    def event(self, event: QEvent) -> bool:
        """Keys that are ours before any shortcut of the window."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and (step_of(event) is not None or _is_ours(event))
        ):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Put, choose, move and take away marks; take such a step back."""
        key, step = Qt.Key(event.key()), step_of(event)
        place = self.marks.places[self.chosen]
        if self._held is not None and (key == Qt.Key.Key_Escape or step is not None):
            held, self._held = self._held, None
            self.mark_put.emit(held, self._former)
        elif step is not None:
            self._runs = False
            self.step_asked.emit(step)
        elif key in PUTS and self.has_picture and self.marks.next_free is not None:
            self.chosen = self.marks.next_free
            self._begin()
            self.mark_put.emit(self.chosen, self.place_at(QRectF(self.rect()).center()))
        elif key in CHOOSES:
            self._choose(1 if key == Qt.Key.Key_PageDown else 0)
        elif key in REMOVES and place is not None:
            self._begin()
            self.mark_put.emit(self.chosen, None)
        elif key in STEPS and place is not None:
            share = 10.0 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1.0
            share *= 0.1 if event.modifiers() & Qt.KeyboardModifier.ControlModifier else 1.0
            if not self._runs:
                self._begin()
            self._runs = True
            x, y = (old + share * step for old, step in zip(place, STEPS[key], strict=True))
            self.mark_put.emit(self.chosen, (x, y))
            self.show_place((x, y))
        else:
            super().keyPressEvent(event)

    def paint_over(self, painter: QPainter) -> None:
        """Draw the line between the marks, its length, and the marks."""
        places = [None if p is None else self.pixel_of(p) for p in self.marks.places]
        a, b = places
        if a is not None and b is not None:
            draw_line(painter, QLineF(a, b), self.label, QRectF(self.rect()))
        for which, (letter, at) in enumerate(zip(LETTERS, places, strict=True)):
            if at is not None and self.rect().contains(at.toPoint()):
                is_chosen = which == self.chosen and self.hasFocus()
                draw_mark(painter, at, letter, is_chosen=is_chosen, room=QRectF(self.rect()))

    def _begin(self) -> None:
        self.moves += 1
        self._runs = False

    def _hold(self, which: int, grip: QPointF) -> None:
        self._begin()
        self._former = self.marks.places[which]
        self._held, self._grip = which, grip
        self._choose(which)

    def _choose(self, which: int) -> None:
        self.chosen, self._runs = which, False
        self.update()

    def _mark_at(self, pixel: QPointF) -> int | None:
        """The nearest mark that can be taken by there."""
        far = {
            which: QLineF(pixel, self.pixel_of(place)).length()
            for which, place in enumerate(self.marks.places)
            if place is not None
        }
        nearest = min(far, key=far.__getitem__, default=None)
        return nearest if nearest is not None and far[nearest] <= HANDLE / 2.0 else None

    def _is_on_picture(self, pixel: QPointF) -> bool:
        x, y = self.place_at(pixel)
        return 0.0 <= x <= self.picture_size[0] and 0.0 <= y <= self.picture_size[1]


def _is_ours(event: QKeyEvent) -> bool:
    keys = (*STEPS, *PUTS, *CHOOSES, *REMOVES, *LARGER, *SMALLER, *WHOLE)
    return event.key() in keys and not event.modifiers() & Qt.KeyboardModifier.AltModifier
