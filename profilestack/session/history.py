"""The past and the future of a document: undo is a list of past stacks."""

from __future__ import annotations

from dataclasses import dataclass

from profilestack.stack import Stack

MOST = 20_000
"""So many steps can be undone; stacks share what they have in common, so each costs little."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A state of the document, and the edit that led to it ("Move pass 3")."""

    stack: Stack
    label: str
    merging: str = ""


class History:
    """States of a document in a row, one of them current."""

    def __init__(self, stack: Stack) -> None:
        self._entries = [Entry(stack, "")]
        self._at = 0

    @property
    def current(self) -> Entry:
        """The state that is shown."""
        return self._entries[self._at]

    @property
    def undo_label(self) -> str | None:
        """What would be undone; None where there is nothing."""
        return self.current.label if self._at > 0 else None

    @property
    def redo_label(self) -> str | None:
        """What would be done again; None where there is nothing."""
        return self._entries[self._at + 1].label if self._at + 1 < len(self._entries) else None

    def add(self, stack: Stack, label: str, merging: str = "") -> None:
        """A new state after the current one; what had been undone is gone.

        Edits in a row with the same ``merging`` word are one step: ten nudges of one pass.
        """
        before = self.current
        del self._entries[self._at + 1 :]
        if merging and before.merging == merging and self._at > 0:
            self._entries[self._at] = Entry(stack, label, merging)
            return
        self._entries.append(Entry(stack, label, merging))
        del self._entries[: max(0, len(self._entries) - MOST)]
        self._at = len(self._entries) - 1

    def end_merging(self) -> None:
        """The next edit is a step of its own."""
        entry = self.current
        self._entries[self._at] = Entry(entry.stack, entry.label)

    def undo(self) -> None:
        """One state back, if there is one; what comes next is a step of its own."""
        self._at = max(0, self._at - 1)
        self.end_merging()

    def redo(self) -> None:
        """One state forward, if there is one; what comes next is a step of its own."""
        self._at = min(len(self._entries) - 1, self._at + 1)
        self.end_merging()
