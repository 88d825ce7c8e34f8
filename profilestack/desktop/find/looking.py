"""The button that starts and stops the finder, and how far it is."""

from __future__ import annotations

from PySide6.QtCore import QObject

from profilestack.desktop.background import Background
from profilestack.desktop.waiting import Waiting, Words
from profilestack.jobs.find import FindResult, FindWishes, find, request_for
from profilestack.progress import Progress
from profilestack.stack import Stack

PATIENCE = 2000
"""So long no progress is shown, only that it looks and can be cancelled [ms]."""

FIND, LOOKING = "Find ways to cut it", "Looking\N{HORIZONTAL ELLIPSIS}"
WORDS = Words(FIND, about_stop="Stop looking and show the best so far (Escape)", busy=LOOKING)


class Looking(Waiting):
    """Looks for ways for its owner."""

    def __init__(self, owner: QObject) -> None:
        self.background = Background(owner)
        super().__init__(self.background, WORDS, PATIENCE)

    def start(self, stack: Stack, wishes: FindWishes) -> None:
        """Look for ways to cut a document's target."""
        self.begin()
        self.background.run(_find, (stack, wishes))

    def allow(self, has_target: bool) -> None:
        """Whether there is anything to look for."""
        self.button.setEnabled(has_target or self.background.is_busy)
        if not self.background.is_busy:
            why = "Look for bits and passes that make the wanted profile"
            self.button.setToolTip(why if has_target else "Draw the wanted profile first")


def _find(asked: tuple[Stack, FindWishes], progress: Progress) -> FindResult:
    return find(request_for(*asked), progress)
