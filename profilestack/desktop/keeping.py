"""Keeps the journal of a window's document while it is modified."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from profilestack.desktop.notices import Notice
from profilestack.errors import FileError
from profilestack.session.journal import Journal

if TYPE_CHECKING:
    from profilestack.desktop.window import Window

AFTER_UNDO = 200
"""So soon after undo or redo [ms]: many in a row are written once, a slow disk holds up none."""

AFTER_EDIT = 1_000
"""So soon after an edit [ms]: edits in a row are written once, not each."""

EVERY = 10_000
"""So often the journal is written while something is not saved [ms]."""


class Keeping(QObject):
    """Writes the journal of one document, and clears it once nothing is left to be kept."""

    def __init__(self, window: Window, journal: Journal) -> None:
        super().__init__(window)
        self._window = window
        self.journal = journal
        self._has_failed = False
        self.timer = QTimer(self)
        self.timer.timeout.connect(self.keep)
        self.timer.start(EVERY)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self.keep)
        # a preview tells nothing of the file: the hand still moves
        window.document.file_changed.connect(self._edited)

    def keep(self) -> None:
        """Write what is not saved, or clear the journal where all is."""
        session = self._window.document.session
        if not session.is_modified:
            self.journal.clear()
            return
        try:
            self.journal.write(session.settled, session.path, session.undo_label or "")
        except FileError as error:
            self._tell(str(error))
        else:
            self._has_failed = False

    def keep_soon(self) -> None:
        """Write it once the hand rests, at the latest after :data:`AFTER_UNDO`."""
        if not self._soon.isActive() or self._soon.remainingTime() > AFTER_UNDO:
            self._soon.start(AFTER_UNDO)

    def end(self) -> None:
        """The document is closed, and what becomes of it was asked."""
        self.timer.stop()
        self._soon.stop()
        self.journal.clear()

    def _edited(self) -> None:
        if self._window.document.session.is_modified and not self._soon.isActive():
            self._soon.start(AFTER_EDIT)

    def _tell(self, why: str) -> None:
        if not self._has_failed:  # said once, not every ten seconds
            text = f"Unsaved work cannot be kept safe at the moment: {why}. Save it soon."
            self._window.notices.show_notice(Notice("journal", text, grave=True))
        self._has_failed = True
