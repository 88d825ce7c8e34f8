"""An open document: its stack, its past, its file, and how it is judged at this moment."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from profilestack.bits.bit import Bit
from profilestack.errors import GeometryError, InputError, Problem
from profilestack.files.stack_file import read_stack, write_stack
from profilestack.jobs.cut import CutReport, cut_and_judge
from profilestack.session.bits_at_hand import BitsAtHand
from profilestack.session.file_state import FileState, state_now, state_of
from profilestack.session.history import History
from profilestack.stack import Stack


class Session:
    """One open document. Every change of its stack goes through here, and can be undone.

    ``report`` is the stack, cut and judged; None where it cannot be cut, and then ``trouble``
    says why. A preview is what is seen while the hand still moves: no step of the past yet.
    """

    def __init__(
        self, stack: Stack, path: Path | None = None, bits: BitsAtHand | None = None
    ) -> None:
        self.bits_at_hand = bits or BitsAtHand()
        self.path = path
        self._history = History(stack)
        self._clean: Stack | None = stack
        self._seen: FileState | None = None
        self._shown = stack
        self.bits: dict[str, Bit] = {}
        self.report: CutReport | None = None
        self.trouble: tuple[Problem, ...] = ()
        self._judge()

    @classmethod
    def open(cls, path: Path, bits: BitsAtHand | None = None) -> Session:
        """The session of a stack file.

        Raises:
            FileError: it cannot be read.
            InputError: all problems of the file.
        """
        seen = state_of(path)
        session = cls(read_stack(path), path, bits)
        session._seen = seen
        return session

    @classmethod
    def recovered(cls, stack: Stack, path: Path | None, bits: BitsAtHand | None = None) -> Session:
        """The session of a stack that stands in no file yet, though it belongs in ``path``."""
        session = cls(stack, path, bits)
        session._clean = None
        session._seen = state_of(path) if path is not None else None
        return session

    @property
    def stack(self) -> Stack:
        """What is shown: the current state, or the preview."""
        return self._shown

    @property
    def settled(self) -> Stack:
        """The current state, without any preview: what would be saved."""
        return self._history.current.stack

    @property
    def is_modified(self) -> bool:
        """Whether closing now would lose something."""
        return self.settled is not self._clean

    @property
    def name(self) -> str:
        """What the document is called: its file's name, else its title."""
        return self.path.name if self.path else self.settled.title or "New board"

    @property
    def undo_label(self) -> str | None:
        """What would be undone; None where there is nothing."""
        return self._history.undo_label

    @property
    def redo_label(self) -> str | None:
        """What would be done again; None where there is nothing."""
        return self._history.redo_label

    def edit(self, stack: Stack, label: str, merging: str = "") -> bool:
        """A new state, as one step that can be undone; whether there was anything to do.

        ``label`` says what is done ("Move pass 3"). Edits in a row with the same ``merging`` word
        are one step.
        """
        if stack == self.settled:
            self.abandon()
            return False
        self._history.add(stack, label, merging)
        self._show(stack)
        return True

    def preview(self, stack: Stack, report: CutReport | None = None) -> None:
        """Show a stack without making it a step.

        ``report`` is for one whose passes were cut and judged already: that takes a while.
        """
        if report is None or stack is self._shown:
            self._show(stack)
            return
        self._shown, self.trouble = stack, ()
        self.bits = self.bits_at_hand.bits_of(stack)
        self.report = replace(report, cut=replace(report.cut, stack=stack))

    def abandon(self) -> None:
        """Back from the preview to the current state."""
        self._show(self.settled)

    def end_merging(self) -> None:
        """The next edit is a step of its own, whatever its merging word."""
        self._history.end_merging()

    def bit_called(self, bit_id: str) -> Bit | None:
        """The bit that a pass of this document means by an id."""
        own = {bit.id: bit for bit in self._shown.bits}
        return own.get(bit_id) or self.bits_at_hand.find(bit_id)

    def look_up_again(self) -> None:
        """Judge what is shown anew: bits at hand have changed."""
        self._judge()

    def undo(self) -> None:
        """One step back, if there is one."""
        self._history.undo()
        self._show(self.settled)

    def redo(self) -> None:
        """One step forward, if there is one."""
        self._history.redo()
        self._show(self.settled)

    def save(self, path: Path | None = None) -> None:
        """Write the current state, to a new place if one is given.

        Raises:
            FileError: it could not be saved; the document is as it was, and still modified.
        """
        place = path or self.path
        assert place is not None, "a document without a file is saved under a name"
        settled = self.settled
        write_stack(settled, place)
        self._history.end_merging()  # undo leads back to what was saved
        self.path, self._clean, self._seen = place, settled, state_of(place)

    def changed_outside(self) -> str:
        """Whether somebody else wrote the file since: "", "changed" or "gone"."""
        if self.path is None or self._seen is None:
            return ""
        now = state_now(self.path, self._seen)
        if now is None:
            return "gone"
        if now.digest != self._seen.digest:
            return "changed"
        self._seen = now
        return ""

    def keep_mine(self) -> None:
        """What stands in the file now is known, and is not what is wanted."""
        self._clean = None
        self._seen = state_of(self.path) if self.path is not None else None

    def forget_changes(self) -> None:
        """Closing loses nothing that is wanted: the changes were given up on purpose."""
        self._clean = self.settled

    def reload(self) -> None:
        """Take what stands in the file now, as a step that can be undone.

        Raises:
            FileError: it cannot be read; the document is as it was.
            InputError: all problems of the file; the document is as it was.
        """
        assert self.path is not None, "only a document with a file is read again"
        seen = state_of(self.path)
        stack = read_stack(self.path)
        if stack != self.settled:
            self._history.add(stack, "Reload the file")
        self._clean, self._seen = self.settled, seen
        self._show(self.settled)

    def _show(self, stack: Stack) -> None:
        if stack is not self._shown:
            self._shown = stack
            self._judge()

    def _judge(self) -> None:
        try:
            self.bits = self.bits_at_hand.bits_of(self._shown)
            self.report = cut_and_judge(self._shown, self.bits, before=self.report)
            self.trouble = ()
        except InputError as error:
            self.report, self.trouble = None, tuple(error.problems)
        except GeometryError as error:
            self.report, self.trouble = None, (Problem("", str(error)),)
