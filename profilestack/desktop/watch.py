"""Notices when somebody else writes the file of an open document."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from profilestack.desktop.notices import Notice
from profilestack.errors import FileError, InputError

if TYPE_CHECKING:
    from profilestack.desktop.window import Window

EVERY = 2000
"""So often the file is looked at [ms]: one look at its size and time, not at its content."""

ABOUT = "outside"


class Watch(QObject):
    """Looks at the file of a window's document, and asks inside the window what to do."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.look)
        self._timer.start(EVERY)

    def stop(self) -> None:
        """Look no more."""
        self._timer.stop()

    def look(self) -> None:
        """Look at the file now; tell what became of it."""
        if self._window.notices.row(ABOUT) is not None:
            return
        how = self._window.document.session.changed_outside()
        if how == "changed":
            self.tell_changed()
        elif how == "gone":
            self._tell_gone()

    def tell_changed(self, before_saving: bool = False) -> None:
        """Say that somebody else wrote the file."""
        session = self._window.document.session
        text = f"{session.name} was changed by another program."
        if before_saving:
            text = f"Not saved yet: {text}"
        if session.is_modified:
            text = f"{text} Your own changes are not saved; after reloading, Undo brings them back."
        choices: list[tuple[str, Callable[[], object]]]
        choices = [("Reload", self.reload), ("Keep mine", self.keep)]
        if before_saving:
            choices = [("Save mine", self._save_mine), ("Reload", self.reload)]
        self._window.notices.show_notice(Notice(ABOUT, text, choices=tuple(choices)))

    def reload(self) -> None:
        """Take what stands in the file, as a step that can be undone."""
        try:
            self._window.document.reload()
        except (FileError, InputError) as error:
            session = self._window.document.session
            text = f"{session.name} could not be reloaded; what you see is as it was."
            lines = tuple(str(error).splitlines())
            self._window.document.keep_mine()
            self._window.notices.show_notice(Notice(ABOUT, text, lines, grave=True))

    def keep(self) -> None:
        """Go on with what is shown; the document counts as modified."""
        self._window.document.keep_mine()

    def _save_mine(self) -> None:
        self._window.document.keep_mine()
        self._window.save()

    def _tell_gone(self) -> None:
        session = self._window.document.session
        self._window.document.keep_mine()
        text = f"{session.path} is not there any more (moved, deleted, or its drive is gone)."
        choices = (("Save as…", self._window.save_as),)
        self._window.notices.show_notice(Notice(ABOUT, text, choices=choices, grave=True))
