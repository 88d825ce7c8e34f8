"""What is worked out of the document off the window's thread, once an edit rests."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from profilestack.bits.bit import Bit
from profilestack.desktop.background import Background
from profilestack.desktop.document import Document
from profilestack.errors import ProfilestackError
from profilestack.jobs.cut import CutReport
from profilestack.planning.shop import Shop
from profilestack.progress import Progress
from profilestack.stack import Stack

REST = 300
"""An edit rests when nothing more has changed for so long [ms]."""


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """The document as it was when the work began."""

    stack: Stack
    bits: Mapping[str, Bit]
    shop: Shop
    report: CutReport
    wishes: Any = None

    def is_of(self, document: Document) -> bool:
        """Whether that is what the document still shows."""
        return self.stack is document.stack and self.shop == document.shop


def task_of(document: Document, wishes: Any = None) -> Task | None:
    """The document as it is now, and what else is asked.

    None where it cannot be cut, or while a hand still moves.
    """
    session = document.session
    if session.report is None or session.stack is not session.settled:
        return None
    return Task(session.stack, dict(session.bits), document.shop, session.report, wishes)


class AfterRest(QObject):
    """Works one thing out again and again; what is not of the document any more is dropped.

    Nothing is worked out while nobody wants it, see :meth:`want`. What was worked out before
    stays in :attr:`answer`, and :attr:`is_fresh` says whether it still holds.
    """

    changed = Signal()
    """The answer, the trouble, whether it is fresh or whether it is being worked out changed."""

    def __init__(
        self,
        document: Document,
        job: Callable[[Task, Progress], Any],
        owner: QObject,
        wishes: Callable[[], Any] = lambda: None,
    ) -> None:
        super().__init__(owner)
        self.document = document
        self.answer: Any = None
        self.trouble = ""
        self._job, self._wishes = job, wishes
        self._wanting: set[str] = set()
        self._told: tuple[object, ...] = ()
        self._asked: Task | None = None
        self._answered: Task | None = None
        self._stopped: Task | None = None
        self.background = Background(self)
        self.background.done.connect(self._hear)
        self.background.failed.connect(self._hear_trouble)
        self.background.stopped.connect(self._hear_stopped)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self._rest.timeout.connect(self.start)
        document.changed.connect(self._look)
        document.shop_changed.connect(self._look)

    @property
    def is_fresh(self) -> bool:
        """Whether the answer (or the trouble) is of what the document shows now."""
        return self._answered is not None and self._answered.is_of(self.document)

    @property
    def is_busy(self) -> bool:
        """Whether it waits for the edit to rest, or is being worked out."""
        return self._rest.isActive() or self.background.is_busy

    @property
    def is_stopped(self) -> bool:
        """Whether it was cancelled for what the document shows now."""
        return self._stopped is not None and self._stopped.is_of(self.document)

    def want(self, who: str, wanted: bool) -> None:
        """Somebody begins or ceases to look at it."""
        (self._wanting.add if wanted else self._wanting.discard)(who)
        if not self._wanting:
            self._stop()
        elif not self.is_fresh and not self.is_busy:
            self.start()

    def start(self) -> None:
        """Work it out now."""
        self._stopped = None
        task = task_of(self.document, self._wishes())
        self._asked = task
        if task is None:
            if self.document.report is None:  # while a hand moves, the former stays to be seen
                self._answered, self.answer, self.trouble = None, None, ""
        else:
            self.background.run(self._job, task)
        self._tell()

    def cancel(self) -> None:
        """Stop it; nothing is worked out anew until there is another edit, or it is started."""
        self.background.cancel()

    def again(self) -> None:
        """Work it out anew: what is wished changed."""
        self._answered = self._asked = self._stopped = None
        self._look()

    def _look(self) -> None:
        if self.is_fresh or self.is_stopped:  # back where it was
            self._stop()
        elif self._asked is None or not self._asked.is_of(self.document):
            self._stop()
            if self._wanting:
                self._rest.start()
        self._tell()

    def _stop(self) -> None:
        self._rest.stop()
        self._asked = None
        self.background.drop()

    def _hear(self, answer: Any) -> None:
        self._take(answer, "")

    def _hear_trouble(self, error: ProfilestackError) -> None:
        self._take(None, str(error))

    def _hear_stopped(self) -> None:
        self._stopped, self._asked = self._asked, None
        self._tell()

    def _take(self, answer: Any, trouble: str) -> None:
        self._answered, self.answer, self.trouble = self._asked, answer, trouble
        self._asked = None
        self._tell()

    def _tell(self) -> None:
        """Say that something changed, if it did: while a hand moves, nothing does."""
        state = (
            id(self.answer), self.trouble, self.is_fresh, self.is_busy, self.is_stopped,
            self._answered, self.background.is_busy,
        )  # fmt: skip
        if state != self._told:
            self._told = state
            self.changed.emit()
