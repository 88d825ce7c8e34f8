"""The hand on a pass: gripped, brought from the drawer or typed, followed, put down or given up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt

from profilestack.cutting.stroke import Stroke
from profilestack.desktop.section.rulers import step_of
from profilestack.geometry.path import Point
from profilestack.jobs.snapping import Hold
from profilestack.session.moving import Hand, Move, move_of_new, place_label
from profilestack.stack import Stack
from profilestack.units import from_units

if TYPE_CHECKING:
    from profilestack.desktop.section.view import SectionView

REACH = 8.0
"""What is so near [px] holds a moved pass."""

GRID = 12.0
"""Lines of the grid are at least so far apart [px]."""

RESOLUTION = {"mm": 0.01, "in": 0.001}
"""A number that nothing holds is a multiple of this, in each unit."""


class Hands:
    """Turns pointers and keys into a :class:`Move`, previews it, and ends it with one edit."""

    def __init__(self, view: SectionView) -> None:
        self.view = view
        self.is_new = False
        """Whether what is moved was not in the stack before."""
        view.document.changed.connect(self._look)

    @property
    def hold(self) -> Hold:
        """What can hold a pass at this zoom."""
        scale, units = self.view.axis.scale, self.view.document.units
        step = from_units(RESOLUTION[units], units)
        return Hold(REACH / scale, step_of(scale, units, GRID), step, units)

    def grip(self, stroke: Stroke, place: Point) -> None:
        """Begin to move the pass of a stroke, and the other chosen ones with it."""
        document = self.view.document
        index = stroke.number - 1
        others = document.chosen if index in document.chosen else ()
        self._begin(Move(document.stack, index, stroke.bit, stroke, place, others), is_new=False)

    def type_for(self, index: int) -> None:
        """Begin to type the numbers of a pass."""
        document = self.view.document
        bit = document.session.bits.get(document.stack.passes[index].bit)
        if bit is not None:
            self._begin(Move(document.stack, index, bit), is_new=False)

    def bring(self, bit_id: str, place: Point) -> bool:
        """Begin to place a bit from the drawer; whether there is such a bit."""
        bit = self.view.document.session.bit_called(bit_id)
        if bit is None:
            self.view.document.said.emit(f"No bit is called {bit_id!r}.")
            return False
        document = self.view.document
        carried = document.session.bits_at_hand.must_be_carried(bit)
        move = move_of_new(document.session.settled, bit, place, carried=carried)
        self._begin(move, is_new=True)
        return True

    def follow(self, pixel: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        """The pointer is there."""
        move = self.view.move_now
        if move is None:
            return
        self.view.pointer = pixel
        hand = Hand(
            self.view.place_of(pixel),
            bool(modifiers & Qt.KeyboardModifier.ShiftModifier),
            bool(modifiers & Qt.KeyboardModifier.AltModifier),
        )
        self.show(move.to(hand, self.hold))

    def show(self, stack: Stack) -> None:
        """Let the document show what is meant."""
        document, move = self.view.document, self.view.move_now
        if move is not None and stack != document.stack:
            document.preview(stack)
        self.view.held_changed.emit("" if move is None else move.snap.words)
        self.view.update()

    def finish(self) -> None:
        """Put it down: one step that can be undone."""
        move, document = self.view.move_now, self.view.document
        if move is None:
            return
        label = place_label(move.bit) if self.is_new else move.label
        trouble = move.trouble(document.units)
        is_new = self.is_new
        self._end()
        document.edit(move.shown, label)
        if is_new:
            document.choose((move.index,))
        if trouble:
            document.said.emit(f"{trouble}; it was left as it was.")

    def give_up(self) -> None:
        """As if nothing had been moved."""
        if self.view.move_now is not None:
            self._end()
            self.view.document.abandon()

    def _begin(self, move: Move, *, is_new: bool) -> None:
        self.view.move_now, self.is_new = move, is_new
        if not is_new:
            self.view.document.point_at(move.index)
        self.show(move.shown)

    def _look(self) -> None:
        """Another hand changed the stack (undo, a panel): what was being moved is let go."""
        move, stack = self.view.move_now, self.view.document.stack
        if move is not None and stack is not move.shown and stack != move.shown:
            self._end()

    def _end(self) -> None:
        self.view.forget_press()
        self.view.move_now, self.is_new = None, False
        self.view.held_changed.emit("")
        self.view.update()
