"""Work off the window's thread: the only place that knows threads.

A job is a function of a request and a :class:`Progress`. It runs in a thread of its own, and what
it says arrives in the window's thread as signals. Nothing of a thread outlives its owner.
"""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable
from functools import partial
from typing import Any, TypeVar

from PySide6.QtCore import QCoreApplication, QObject, Qt, Signal

from profilestack.errors import Cancelled, ProfilestackError
from profilestack.progress import Progress

Request = TypeVar("Request")

TELL_EVERY = 0.05
"""Progress is told at most so often [s]: the window has better things to do."""

SWITCH = 0.001
"""The window gets the interpreter back after at most so long [s] while Python works elsewhere."""


class _Unwanted(BaseException):
    """Unwinds a job that nobody waits for any more, at the next time that it asks or tells."""


class _Work:
    """One run of a job in its thread. What is no longer wanted says nothing more."""

    def __init__(self, job: Callable[[Any, Progress], Any], request: Any, tell: Any) -> None:
        self._job, self._request, self._tell = job, request, tell
        self._stop = threading.Event()
        self._told = 0.0
        self.is_wanted = True
        self.thread = threading.Thread(target=self._run, name="profilestack-job")

    def stop(self) -> None:
        """Ask it to hand over the best so far."""
        self._stop.set()

    def drop(self) -> None:
        """Ask it to end, and hear nothing of it."""
        self.is_wanted = False
        self._stop.set()

    def _run(self) -> None:
        try:
            result = self._job(self._request, Progress(self._report, self._is_stopped))
        except _Unwanted:
            self._tell(self, "done", None)
        except BaseException as error:  # it is told in the window's thread, none is swallowed
            self._tell(self, "error", error)
        else:
            self._tell(self, "done", result)

    def _is_stopped(self) -> bool:
        if not self.is_wanted:
            raise _Unwanted
        return self._stop.is_set()

    def _report(self, share: float, words: str) -> None:
        if not self.is_wanted:
            raise _Unwanted
        now = time.monotonic()
        if now - self._told >= TELL_EVERY:
            self._told = now
            self._tell(self, "progress", (share, words))


class Background(QObject):
    """Runs one job after the other for its owner; a new one drops the one before.

    ``cancel`` asks for the best so far: the job answers with :attr:`done`, or :attr:`stopped`
    where it has nothing. ``drop`` wants nothing more of it. Exactly one of :attr:`done`,
    :attr:`failed` and :attr:`stopped` comes for a job that is not dropped and has no bug, then
    :attr:`ended`; a bug goes to ``sys.excepthook``, then :attr:`ended`.
    """

    progress = Signal(float, str)
    """How much is done (0 to 1), and what is being worked on."""

    done = Signal(object)
    """The job's result."""

    failed = Signal(object)
    """A ``ProfilestackError``: the mistake that is the user's business."""

    stopped = Signal()
    """It was cancelled before it had anything to show."""

    ended = Signal()
    """Whatever came of it: nothing runs for the owner now."""

    _told = Signal(object, str, object)

    def __init__(self, owner: QObject) -> None:
        super().__init__(owner)
        self._work: _Work | None = None
        self._next: _Work | None = None
        self._told.connect(self._hear, Qt.ConnectionType.QueuedConnection)
        # a plain function: when the owner is destroyed, nothing of this object may be called
        self._running: list[_Work] = []
        owner.destroyed.connect(partial(_finish, self._running))
        app = QCoreApplication.instance()
        if app is not None:
            app.aboutToQuit.connect(self.close)

    @property
    def is_busy(self) -> bool:
        """Whether a job runs that somebody waits for."""
        return self._next is not None or (self._work is not None and self._work.is_wanted)

    def run(self, job: Callable[[Request, Progress], object], request: Request) -> None:
        """Start a job; the one before is dropped, and waited for if it still runs."""
        work = _Work(job, request, self._told.emit)
        if self._work is not None:
            self._work.drop()
            self._next = work
        else:
            self._start(work)

    def cancel(self) -> None:
        """Ask for the best so far."""
        if self._next is not None:  # never begun: there is nothing to show
            self._next = None
            self.stopped.emit()
            self.ended.emit()
        elif self._work is not None:
            self._work.stop()

    def drop(self) -> None:
        """Want nothing more of the job that runs."""
        self._next = None
        if self._work is not None and self._work.is_wanted:
            self._work.drop()
            self.ended.emit()

    def close(self) -> None:
        """Drop what runs and wait until its thread has ended: the window goes."""
        self._next = None
        _finish(self._running)

    def _start(self, work: _Work) -> None:
        sys.setswitchinterval(min(SWITCH, sys.getswitchinterval()))
        self._work = work
        self._running[:] = [work]
        work.thread.start()

    def _hear(self, work: _Work, what: str, value: Any) -> None:
        if work is not self._work:
            return
        if what == "progress":
            if work.is_wanted:
                self.progress.emit(*value)
            return
        work.thread.join()
        self._work = None
        self._running.clear()
        if self._next is not None:
            following, self._next = self._next, None
            self._start(following)
        if what == "error" and not isinstance(value, ProfilestackError):
            sys.excepthook(type(value), value, value.__traceback__)  # a bug, wanted or not
        elif work.is_wanted:
            self._say(what, value)
        if work.is_wanted:
            self.ended.emit()

    def _say(self, what: str, value: Any) -> None:
        if what == "done":
            self.done.emit(value)
        elif isinstance(value, Cancelled):
            self.stopped.emit()
        else:
            self.failed.emit(value)


def finish_under(owner: QObject) -> None:
    """Drop all that runs for an owner and its children, and wait for the threads to end."""
    for background in owner.findChildren(Background):
        background.close()


def _finish(running: list[_Work], *_: object) -> None:
    for work in running:
        work.drop()
    for work in running:
        work.thread.join()
    running.clear()
