"""One action of the window, as a row of the table of actions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

if TYPE_CHECKING:
    from profilestack.desktop.window import Window

StandardKey = QKeySequence.StandardKey


@dataclass(frozen=True, slots=True)
class ActionRow:
    """One action: what it is called, where it stands, what it does, when it can be done.

    ``place`` is its menu and its group there ("File/save"); a line parts the groups. ``key`` is
    the system's own shortcut; ``keys`` ours, beside it or where the system has none. ``why_not``
    says why it cannot be done now, "" where it can. ``says`` gives its text where that changes.
    ``is_on``: it is one of a choice (those of one group), and whether it is the chosen one.
    """

    name: str
    place: str
    text: str
    tooltip: str
    slot: Callable[[Window], object]
    key: QKeySequence.StandardKey | None = None
    keys: str = ""
    why_not: Callable[[Window], str] | None = None
    says: Callable[[Window], str] | None = None
    is_on: Callable[[Window], bool] | None = None

    @property
    def menu(self) -> str:
        """The menu that it stands in."""
        return self.place.partition("/")[0]

    @property
    def shortcuts(self) -> list[QKeySequence]:
        """The shortcuts that it has on this system; the first one is shown."""
        bound = QKeySequence.keyBindings(self.key) if self.key is not None else []
        own = QKeySequence(self.keys)
        return [*bound, own] if self.keys and own not in bound else bound
