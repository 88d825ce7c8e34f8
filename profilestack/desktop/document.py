"""An open document as the window's parts see it: what is shown, what is chosen, what changed."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from profilestack.geometry.path import Path
from profilestack.jobs.cut import CutReport
from profilestack.planning.shop import USUAL_SHOP, Shop
from profilestack.session.following import followed, moment_followed
from profilestack.session.session import Session
from profilestack.stack import Stack

if TYPE_CHECKING:
    from profilestack.finding.advice import Stretch


class Document(QObject):
    """One session, with signals. All parts of a window look at the same one.

    Passes are counted from 0 here; what the user reads is counted from 1.
    """

    changed = Signal()
    """The stack that is shown changed (edit, preview, undo), and its report with it."""

    chosen_changed = Signal()
    """Other passes are chosen."""

    pointed_changed = Signal()
    """Another pass is pointed at."""

    cursor_moved = Signal()
    """The place under the pointer changed: :attr:`cursor`, (x, z) in mm or None."""

    file_changed = Signal()
    """The document has another name, or became modified or saved."""

    units_changed = Signal()
    """Lengths are shown in other units."""

    moment_changed = Signal()
    """Another moment of the order is looked at."""

    findings_changed = Signal()
    """What the finder tells to draw changed: :attr:`unreached`, :attr:`drawn_before`."""

    bit_placed = Signal(int)
    """A bit that no hand held over the section became this pass."""

    bits_changed = Signal()
    """Other bits are at hand outside the document."""

    bits_kept = Signal()
    """It was here that bits were saved or opened: other windows should hear of it."""

    shop_changed = Signal()
    """The shop that plans and minutes are reckoned for is another one."""

    shop_kept = Signal()
    """It was here that a shop was chosen: it should be kept, and told to other windows."""

    said = Signal(str)
    """A message for the foot of the window."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.units = session.stack.units
        self._told = session.stack
        self.chosen: tuple[int, ...] = ()
        self.pointed: int | None = None
        self.cursor: tuple[float, float] | None = None
        self.moment: int | None = None
        """After how many passes the blank is looked at; None: when all are cut."""
        self.unreached: tuple[Stretch, ...] = ()
        """Stretches of the wanted profile that no bit reaches, each with its reason."""
        self.drawn_before: Path | None = None
        """The wanted profile as it was drawn, where a fitted one is shown in its place."""
        self.shop = USUAL_SHOP
        self.shop_word = ""
        """How the shop was chosen, see :mod:`profilestack.session.shop_choice`."""

    @property
    def stack(self) -> Stack:
        """What is shown."""
        return self.session.stack

    @property
    def report(self) -> CutReport | None:
        """How it is judged; None where it cannot be cut, see the session's ``trouble``."""
        return self.session.report

    def edit(self, stack: Stack, label: str, merging: str = "") -> None:
        """One step that can be undone, see :meth:`Session.edit`."""
        self.session.edit(stack, label, merging)
        self._tell()

    def preview(self, stack: Stack, report: CutReport | None = None) -> None:
        """Show what an edit would do while the hand still moves; see :meth:`Session.preview`."""
        self.session.preview(stack, report)
        self._tell_change()  # nothing becomes of the file yet

    def abandon(self) -> None:
        """Let go of a preview."""
        self.session.abandon()
        self._tell()

    def look_up_again(self) -> None:
        """Bits at hand have changed: a file of them was saved or opened here."""
        self.session.bits_at_hand.read_again()
        self.hear_of_bits()
        self.bits_kept.emit()

    def hear_of_bits(self) -> None:
        """Bits at hand have changed, here or in another window."""
        self.session.look_up_again()
        self.bits_changed.emit()
        self._tell()

    def undo(self) -> None:
        """One step back."""
        label = self.session.undo_label
        self.session.undo()
        self._tell()
        if label:
            self.said.emit(f"Undone: {label}")

    def redo(self) -> None:
        """One step forward."""
        label = self.session.redo_label
        self.session.redo()
        self._tell()
        if label:
            self.said.emit(f"Done again: {label}")

    def save(self, path: FilePath | None = None) -> None:
        """Write it; raises FileError where that fails."""
        self.session.save(path)
        self.file_changed.emit()

    def reload(self) -> None:
        """Take what stands in the file now; raises FileError or InputError where that fails."""
        self.session.reload()
        self._tell()

    def keep_mine(self) -> None:
        """What stands in the file now is not what is wanted."""
        self.session.keep_mine()
        self.file_changed.emit()

    def choose(self, indices: Iterable[int]) -> None:
        """Choose these passes."""
        chosen = tuple(sorted({i for i in indices if 0 <= i < len(self.stack.passes)}))
        if chosen != self.chosen:
            self.chosen = chosen
            self.chosen_changed.emit()

    def point_at(self, index: int | None) -> None:
        """Light a pass up everywhere."""
        if index != self.pointed:
            self.pointed = index
            self.pointed_changed.emit()

    def move_cursor(self, place: tuple[float, float] | None) -> None:
        """The pointer is over this place of the section."""
        if place != self.cursor:
            self.cursor = place
            self.cursor_moved.emit()

    def set_units(self, units: str) -> None:
        """Show lengths in "mm" or "in"; the document's own units stay as they are."""
        if units != self.units:
            self.units = units
            self.units_changed.emit()

    def set_shop(self, word: str, shop: Shop) -> None:
        """Reckon plans and minutes for this shop; it is no part of the document."""
        if (word, shop) != (self.shop_word, self.shop):
            self.shop_word, self.shop = word, shop
            self.shop_changed.emit()

    def tell_findings(
        self, unreached: tuple[Stretch, ...], drawn_before: Path | None = None
    ) -> None:
        """Have what the finder found drawn on the section."""
        if (unreached, drawn_before) != (self.unreached, self.drawn_before):
            self.unreached, self.drawn_before = unreached, drawn_before
            self.findings_changed.emit()

    def look_at_moment(self, moment: int | None) -> None:
        """Look at the blank after so many passes; None: when all are cut."""
        if moment != self.moment:
            self.moment = moment
            self.moment_changed.emit()

    def _tell(self) -> None:
        self._tell_change()
        self.file_changed.emit()

    def _tell_change(self) -> None:
        before, self._told = self._told, self.stack
        if before is not self.stack:
            self.choose(followed(before, self.stack, self.chosen))
            if self.pointed is not None:
                self.point_at(next(iter(followed(before, self.stack, (self.pointed,))), None))
            if self.moment is not None:
                self.look_at_moment(moment_followed(before, self.stack, self.moment))
        self.changed.emit()
