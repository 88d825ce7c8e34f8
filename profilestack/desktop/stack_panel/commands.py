"""What can be done with the chosen passes; used by the table, its buttons, and the menus."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication

from profilestack.desktop.carrying import BIT, PASSES
from profilestack.desktop.document import Document
from profilestack.desktop.placing import place_in_the_middle
from profilestack.errors import InputError
from profilestack.session import pass_edits, pass_text
from profilestack.stack import Stack


class PassCommands:
    """Commands on a document's chosen passes: each is one step that can be undone.

    A refusal is said at the foot of the window. Nothing chosen: nothing done.
    """

    def __init__(self, document: Document) -> None:
        self.document = document

    def earlier(self) -> None:
        """Cut the chosen passes one place earlier."""
        self._shift(later=False)

    def later(self) -> None:
        """Cut the chosen passes one place later."""
        self._shift(later=True)

    def move_to(self, indices: Iterable[int], to: int) -> None:
        """Cut these passes in a row before the one that is now at ``to``."""
        moving = tuple(indices)
        stack, label = pass_edits.moved_to_place(self.document.stack, moving, to)
        self.document.edit(stack, label)
        self.document.choose(pass_edits.places_after_move(moving, to))

    def duplicate(self) -> None:
        """The chosen passes once more, and the new ones chosen."""
        chosen = self.document.chosen
        if chosen:
            self._edit(pass_edits.duplicated, chosen)
            self.document.choose(pass_edits.places_of_duplicates(chosen))

    def mirror(self) -> None:
        """The chosen passes on the other side of the blank's middle."""
        self._edit(pass_edits.mirrored, self.document.chosen)

    def delete(self) -> None:
        """Take the chosen passes out of the stack."""
        chosen = self.document.chosen
        if chosen:
            self._edit(pass_edits.deleted, chosen)
            self._choose_near(chosen[0])

    def switch(self) -> None:
        """Switch the chosen passes off, or on when all of them are off."""
        self._edit(pass_edits.switched, self.document.chosen)

    def rough_out(self) -> None:
        """Make the chosen passes rough out, or finish when all of them rough out."""
        stack, chosen = self.document.stack, self.document.chosen
        relief = not all(stack.passes[index].relief for index in chosen)
        self._edit(lambda old, which: pass_edits.with_relief(old, which, relief), chosen)

    def lay(self, setup: str, _checked: bool = False) -> None:
        """Cut the chosen passes with the blank lying in another way."""
        self._edit(
            lambda old, which: pass_edits.with_setup(old, which, setup), self.document.chosen
        )

    def copy(self) -> None:
        """Put the chosen passes on the clipboard."""
        if self.document.chosen:
            QGuiApplication.clipboard().setMimeData(self.carried(self.document.chosen))

    def cut(self) -> None:
        """Take the chosen passes out of the stack, onto the clipboard."""
        chosen = self.document.chosen
        if chosen:
            self.copy()
            stack, _ = pass_edits.deleted(self.document.stack, chosen)
            self.document.edit(stack, pass_text.cut_label(chosen))
            self._choose_near(chosen[0])

    def paste(self) -> None:
        """Put the clipboard's passes behind the chosen ones, or at the end."""
        chosen = self.document.chosen
        self.put(QGuiApplication.clipboard().mimeData(), chosen[-1] + 1 if chosen else None)

    def put(self, data: QMimeData, at: int | None) -> bool:
        """Put carried passes into the stack, from ``at`` on; whether they could be taken."""
        before = self.document.stack
        try:
            after, label = pass_text.pasted(before, text_of(data), at)
        except InputError as error:
            self.document.said.emit(f"Not pasted: {error.problems[0]}")
            return False
        self.document.edit(after, label)
        self.document.choose(pass_text.places_of_pasted(before, after, at))
        return True

    def place(self, data: QMimeData, at: int) -> bool:
        """Cut a carried bit before the pass that is now at ``at``; whether there is such a bit."""
        bit_id = bytes(data.data(BIT).data()).decode("utf-8", "replace")
        return place_in_the_middle(self.document, bit_id, at)

    def carried(self, indices: Iterable[int]) -> QMimeData:
        """These passes as they are carried."""
        session = self.document.session
        own = {bit.id: bit for bit in session.stack.bits}
        bits = session.bits | own
        at_hand = session.bits_at_hand
        along = {w: bit for w, bit in bits.items() if w in own or at_hand.must_be_carried(bit)}
        text = pass_text.passes_text(session.stack, indices, along)
        data = QMimeData()
        data.setData(PASSES, text.encode())
        data.setText(text)
        return data

    def choose_all(self) -> None:
        """Choose every pass."""
        self.document.choose(range(len(self.document.stack.passes)))

    def _shift(self, later: bool) -> None:
        chosen = self.document.chosen
        count = len(self.document.stack.passes)
        self._edit(pass_edits.moved_later if later else pass_edits.moved_earlier, chosen)
        self.document.choose(pass_edits.places_after_shift(count, chosen, later))

    def _edit(
        self, change: Callable[[Stack, Iterable[int]], pass_edits.Edited], chosen: tuple[int, ...]
    ) -> None:
        if not chosen:
            return
        try:
            stack, label = change(self.document.stack, chosen)
        except InputError as error:
            self.document.said.emit(f"Not done: {error.problems[0]}")
            return
        self.document.edit(stack, label)

    def _choose_near(self, index: int) -> None:
        count = len(self.document.stack.passes)
        self.document.choose([min(index, count - 1)] if count else [])


def text_of(data: QMimeData | None) -> str:
    """The passes that are carried, or any text that may be some."""
    if data is None:
        return ""
    if data.hasFormat(PASSES):
        return bytes(data.data(PASSES).data()).decode("utf-8", "replace")
    return data.text()
