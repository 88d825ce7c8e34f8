"""The section by keyboard alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QKeyEvent

from profilestack.errors import InputError
from profilestack.session.moving import nudge_across_and_deeper
from profilestack.session.pass_edits import named, nudge_step, nudged

if TYPE_CHECKING:
    from profilestack.desktop.section.view import SectionView

KEYS = (
    "N and P, or Page Down and Page Up, choose the next and the previous pass. "
    "Arrows nudge the chosen passes by a step, with Shift ten steps, with Ctrl a tenth. "
    "Digits set the offset of the chosen pass, Tab leads to its depth, Enter keeps it, "
    "Escape gives it up. Dragging moves a pass: Shift keeps to one axis, Alt lets go of snaps. "
    "The wheel zooms at the pointer; the middle button, or the space key held, moves the paper."
)

Key = Qt.Key
ARROWS = {
    Key.Key_Left: (-1.0, 0.0),
    Key.Key_Right: (1.0, 0.0),
    Key.Key_Up: (0.0, 1.0),
    Key.Key_Down: (0.0, -1.0),
}
NEXT, PREVIOUS = (Key.Key_N, Key.Key_PageDown), (Key.Key_P, Key.Key_PageUp)
ENDS = (Key.Key_Return, Key.Key_Enter)
PAN = 48.0
"""Arrows move the paper by so many pixels where no pass is chosen."""

MODIFIERS = (Key.Key_Shift, Key.Key_Alt)


def is_ours(event: QKeyEvent, *, moving: bool) -> bool:
    """Whether a key means something here, whatever shortcut the window has for it."""
    plain = not event.modifiers() & (
        Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier
    )
    key = event.key()
    if key in ARROWS:
        return plain
    if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
        return False
    if moving:
        return True
    return plain and (key in (*NEXT, *PREVIOUS, Key.Key_Space) or event.text().isdigit())


class Keys:
    """Turns keys into choices, nudges and typed numbers."""

    def __init__(self, view: SectionView) -> None:
        self.view = view
        self.holds_paper = False

    def press(self, event: QKeyEvent) -> bool:
        """Whether the key meant something."""
        key = event.key()
        if self.view.move_now is not None:
            return self._while_moving(event)
        if key == Key.Key_Space:
            self.holds_paper = True
            self.show_hand()
        elif key in ARROWS:
            self._arrow(*ARROWS[Key(key)], event.modifiers())
        elif key in NEXT:
            self._choose_by(1)
        elif key in PREVIOUS:
            self._choose_by(-1)
        elif key == Key.Key_Escape and self.view.document.chosen:
            self.view.document.choose(())
        elif event.text() and event.text() in "0123456789.-" and self._can_type():
            self._type(event.text())
        else:
            return False
        return True

    def release(self, event: QKeyEvent) -> bool:
        """Whether the key meant something."""
        if event.key() == Key.Key_Space and not event.isAutoRepeat():
            self.let_go_of_paper()
            return True
        if event.key() in MODIFIERS and self.view.move_now is not None:
            self.view.hands.follow(self.view.pointer, event.modifiers())
            return True
        return False

    def let_go_of_paper(self) -> None:
        """The space key is up."""
        self.holds_paper = False
        self.show_hand()

    def show_hand(self) -> None:
        """The pointer says whether it would move the paper."""
        if self.holds_paper:
            self.view.setCursor(Qt.CursorShape.OpenHandCursor)
        else:
            self.view.unsetCursor()

    def _while_moving(self, event: QKeyEvent) -> bool:
        view, move = self.view, self.view.move_now
        assert move is not None
        key, text = event.key(), event.text()
        if key == Key.Key_Escape:
            view.hands.give_up()
        elif key in ENDS:
            view.hands.finish()
        elif key == Key.Key_Backspace:
            view.hands.show(move.untype(view.hands.hold))
        elif key in MODIFIERS:
            if move.grip is not None:
                view.hands.follow(view.pointer, event.modifiers())
        elif text and text.isprintable():
            view.hands.show(move.type(text, view.hands.hold))
        else:
            return False
        return True

    def _can_type(self) -> bool:
        return len(self.view.document.chosen) == 1

    def _type(self, text: str) -> None:
        view = self.view
        view.hands.type_for(view.document.chosen[0])
        if view.move_now is not None:
            passed = view.move_now.pass_before
            tip = (passed.offset, view.axis.top - 1.0)
            view.pointer = QPointF(view.axis.pixel_of_x(tip[0]), view.height() / 2.0)
            view.hands.show(view.move_now.type(text, view.hands.hold))

    def _choose_by(self, step: int) -> None:
        document = self.view.document
        count = len(document.stack.passes)
        if count:
            last = document.chosen[-1] if document.chosen else (-1 if step > 0 else count)
            document.choose(((last + step) % count,))

    def _arrow(self, right: float, up: float, modifiers: Qt.KeyboardModifier) -> None:
        document = self.view.document
        if not document.chosen:
            self.view.axis.pan(-PAN * right, PAN * up)
            return
        step = nudge_step(document.units)
        if modifiers & Qt.KeyboardModifier.ShiftModifier:
            step *= 10.0
        if modifiers & Qt.KeyboardModifier.ControlModifier:
            step /= 10.0
        stack = document.stack
        try:
            for index in document.chosen:
                across, deeper = nudge_across_and_deeper(stack, index, step * right, step * up)
                stack, _ = nudged(stack, (index,), across, deeper)
        except InputError:
            document.said.emit("A depth stays above 0.")
            return
        document.edit(stack, f"Move {named(document.chosen)}", f"nudge {document.chosen}")
