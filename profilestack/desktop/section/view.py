"""The section under the hand: pointing, choosing, zooming; moving is in ``hands``."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import (
    QDragEnterEvent,
    QDragLeaveEvent,
    QDragMoveEvent,
    QDropEvent,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QToolTip, QWidget

from profilestack.cutting.stroke import Stroke
from profilestack.desktop.axis import Axis
from profilestack.desktop.carrying import BIT
from profilestack.desktop.document import Document
from profilestack.desktop.section.canvas import Canvas
from profilestack.desktop.section.hands import Hands
from profilestack.desktop.section.keys import KEYS, Keys, is_ours
from profilestack.desktop.section.tips import tip_at
from profilestack.geometry.path import Point
from profilestack.session.whereabouts import stroke_at

NEAR = 6.0
"""So near to its outline [px] a pass is pointed at."""

START = 3.0
"""A press becomes a drag after so many pixels."""

LEFT, MIDDLE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton


class SectionView(Canvas):
    """The section of a document, edited by mouse and keys."""

    def __init__(self, document: Document, axis: Axis, parent: QWidget | None = None) -> None:
        super().__init__(document, axis, parent)
        self._pressed: tuple[QPointF, Stroke | None] | None = None
        self.hands = Hands(self)
        self.keys = Keys(self)
        self._panned: QPointF | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAcceptDrops(True)
        self.setAccessibleName("Section")
        self.setAccessibleDescription(f"The section with its passes. {KEYS}")
        self.setWhatsThis(KEYS)

    def place_of(self, pixel: QPointF) -> Point:
        """The place of the section at a pixel [mm]."""
        return (self.axis.x_at(pixel.x()), self.axis.z_at(pixel.y()))

    def stroke_under(self, pixel: QPointF) -> Stroke | None:
        """The stroke that is pointed at: by its number, by what it takes, by its outline."""
        report = self.document.report
        if report is None:
            return None
        named = self.balloon_at(pixel)
        if named is not None:
            return next(s for s in report.cut.strokes if s.number == named + 1)
        found = stroke_at(report.cut, self.place_of(pixel), NEAR / self.axis.scale)
        return None if found is None else report.cut.strokes[found]

    def forget_press(self) -> None:
        """What was pressed is no longer held, though the button may still be down."""
        self._pressed = None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold: of the paper, or of a pass."""
        at = event.position()
        if event.button() == MIDDLE or (event.button() == LEFT and self.keys.holds_paper):
            self._panned = at
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        elif event.button() == LEFT and self.move_now is None:
            stroke = self.stroke_under(at)
            self._pressed = (at, stroke)
            adds = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
            self._choose(None if stroke is None else stroke.number - 1, adds=adds)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the pointer."""
        at = event.position()
        if self._panned is not None:
            off = at - self._panned
            self._panned = at
            self.axis.pan(off.x(), off.y())
            return
        self.pointer = at
        if self._pressed is not None and self.move_now is None:
            begin, stroke = self._pressed
            if stroke is not None and (at - begin).manhattanLength() >= START:
                self.hands.grip(stroke, self.place_of(begin))
        if self.move_now is None and not event.buttons():
            stroke = self.stroke_under(at)
            self.document.point_at(None if stroke is None else stroke.number - 1)
        else:
            self.hands.follow(at, event.modifiers())
        self.document.move_cursor(self.place_of(at))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        if self._panned is not None and event.button() in (LEFT, MIDDLE):
            self._panned = None
            self.keys.show_hand()
        elif event.button() == LEFT:
            self._pressed = None
            self.hands.finish()

    def leaveEvent(self, event: QEvent) -> None:
        """The pointer is elsewhere."""
        super().leaveEvent(event)
        if self.move_now is None:
            self.document.point_at(None)
            self.document.move_cursor(None)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Larger or smaller at the pointer; with Shift to the side."""
        turned = event.angleDelta()
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier or not turned.y():
            self.axis.pan((turned.y() or turned.x()) / 2.0, 0.0)
        else:
            at = event.position()
            self.axis.zoom(1.2 ** (turned.y() / 120.0), at.x(), at.y())
        event.accept()

    def event(self, event: QEvent) -> bool:
        """Keys that are ours before any shortcut; tooltips by place."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and is_ours(event, moving=self.move_now is not None)
        ):
            event.accept()
            return True
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            QToolTip.showText(event.globalPos(), tip_at(self, QPointF(event.pos())), self)
            return True
        return super().event(event)

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab leads to the other number while numbers are typed, else to the next part."""
        if self.move_now is not None:
            self.move_now.next_number()
            self.update()
            return True
        return super().focusNextPrevChild(forward)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the ring."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A number half typed is given up; a drag goes on until the button is let go."""
        super().focusOutEvent(event)
        self.keys.let_go_of_paper()
        if self._pressed is None:
            self.hands.give_up()
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """See :data:`KEYS`."""
        if not self.keys.press(event):
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Modifiers count while a pass is moved; the space key lets go of the paper."""
        if not self.keys.release(event):
            super().keyReleaseEvent(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """A bit comes from the drawer."""
        at = event.position()
        if event.mimeData().hasFormat(BIT):
            bit_id = bytes(event.mimeData().data(BIT).data()).decode("utf-8")
            if self.hands.bring(bit_id, self.place_of(at)):
                self.hands.follow(at, event.modifiers())
                event.acceptProposedAction()

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        """It is held over the section."""
        if self.hands.is_new:
            self.hands.follow(event.position(), event.modifiers())
            self.document.move_cursor(self.place_of(event.position()))
            event.acceptProposedAction()

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        """It is carried away again."""
        self.hands.give_up()

    def dropEvent(self, event: QDropEvent) -> None:
        """It becomes a pass."""
        if self.hands.is_new:
            self.hands.follow(event.position(), event.modifiers())
            self.hands.finish()
            event.acceptProposedAction()
            self.setFocus(Qt.FocusReason.MouseFocusReason)

    def _choose(self, index: int | None, *, adds: bool) -> None:
        chosen = set(self.document.chosen)
        if index is None:
            if not adds:
                self.document.choose(())
        elif adds:
            self.document.choose(chosen ^ {index})
        elif index not in chosen:
            self.document.choose((index,))
