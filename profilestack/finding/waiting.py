"""Work that cannot be cut short, waited for no longer than the user does."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Generic, TypeVar

from profilestack.progress import Progress

T = TypeVar("T")

LOOK = 0.05
"""So often it is asked whether to go on waiting [s]."""


class _Work(Generic[T]):
    """A function run by a thread of its own, with its answer or its failure."""

    def __init__(self, work: Callable[[], T]) -> None:
        self._work = work
        self.done = threading.Event()
        self.answer: T | None = None
        self.failure: BaseException | None = None

    def run(self) -> None:
        try:
            self.answer = self._work()
        except BaseException as failure:  # handed on to whom it concerns
            self.failure = failure
        finally:
            self.done.set()


def unless_stopped(work: Callable[[], T], progress: Progress) -> T | None:
    """What ``work`` returns, or None as soon as the progress is stopped.

    Stopped work goes on unheard until its own end, which never keeps the program from ending.
    """
    running = _Work(work)
    threading.Thread(target=running.run, daemon=True).start()
    while not running.done.wait(LOOK):
        if progress.is_stopped():
            return None
    if running.failure is not None:
        raise running.failure
    return running.answer
