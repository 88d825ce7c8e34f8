"""How long work tells where it is, and hears that it should stop."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace

Report = Callable[[float, str], None]
"""Told how much is done (0 to 1) and what is being worked on."""


def _say_nothing(share: float, doing: str) -> None:
    del share, doing


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Progress:
    """Report, stop and clock of one piece of work.

    ``is_stopped`` is asked often and must be quick; ``deadline`` is a time of
    ``time.monotonic`` [s] after which the best so far is handed over.
    """

    report: Report = _say_nothing
    is_stopped: Callable[[], bool] = _never
    deadline: float = float("inf")
    begun: float = field(default_factory=time.monotonic)

    @property
    def left(self) -> float:
        """Time left [s], 0 when the work should end."""
        if self.is_stopped():
            return 0.0
        return max(0.0, self.deadline - time.monotonic())

    def within(self, seconds: float) -> Progress:
        """The same, ended after so many seconds at the latest."""
        return replace(self, deadline=min(self.deadline, time.monotonic() + seconds))

    @property
    def spent(self) -> float:
        """Time since the work began [s]."""
        return time.monotonic() - self.begun


SILENT = Progress()
