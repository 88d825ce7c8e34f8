"""The page "Spread": what leftover and overcut come to with the shop's usual errors."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Trouble
from profilestack.desktop.machine.after_rest import AfterRest, Task
from profilestack.desktop.machine.page_list import PageList
from profilestack.desktop.paragraph import Paragraph
from profilestack.desktop.waiting import Waiting, Words
from profilestack.jobs.spread import Spread, spread_of
from profilestack.planning.usual_errors import errors_on
from profilestack.progress import Progress
from profilestack.session.spread_words import spread_rows, spread_summary

WORKING = "Cut a thousand times with usual errors …"
STOPPED = "Cancelled: not all cuts were tried."
WORDS = Words(
    "Try the cuts", about_stop="Stop trying cuts; there is no spread then (Escape)",
    about_start="Cut a thousand times, each time with other errors",
)  # fmt: skip
PATIENCE = 400
"""So long there is no word of how far it is [ms]."""

NOTHING = "There is no wanted profile that a cut could miss."
ON_STRIP = "The menu View shows it as a band in the leftover strip."


class SpreadPage(QWidget):
    """Two numbers in words, and a list of what matters most."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.document = document
        self.work = AfterRest(document, _spread, self)
        self.summary = Paragraph("Spread", bold=True)
        self.waiting = Waiting(self.work.background, WORDS, PATIENCE)
        self.waiting.offer(False)
        self.trouble = Trouble()
        about = Paragraph("Where it is shown", quiet=True)
        about.say(ON_STRIP)
        self.list = PageList("Spread", "What matters most; choosing a pass chooses it on the bench")
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 8, 8, 8)
        box.setSpacing(8)
        for part in (self.summary, self.waiting, about, self.trouble):
            box.addWidget(part)
        box.addWidget(self.list, 1)
        self.setFocusProxy(self.list)
        self.list.selectionModel().currentChanged.connect(self._chosen)
        self.waiting.wanted.connect(self.work.start)
        self.work.changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show what is known now."""
        spread: Spread | None = self.work.answer
        fresh, units = self.work.is_fresh, self.document.units
        self.trouble.say(self.work.trouble if fresh else "")
        self.list.setEnabled(fresh)
        self.waiting.offer(self.work.is_stopped)
        if self.work.background.is_busy and not self.waiting.is_begun:
            self.waiting.begin()
        report = self.document.report
        if report is None or report.comparison is None:
            self.summary.say(NOTHING)
        elif not fresh:
            self.summary.say(STOPPED if self.work.is_stopped else WORKING)
        else:
            self.summary.say("" if spread is None else spread_summary(spread, units))
        self.list.rows.show_rows(() if spread is None else spread_rows(spread, units))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape cancels."""
        if event.key() == Qt.Key.Key_Escape and self.work.background.is_busy:
            self.work.cancel()
        else:
            super().keyPressEvent(event)

    def _chosen(self, current: QModelIndex, _before: QModelIndex) -> None:
        row = self.list.row(current)
        if self.work.is_fresh and row is not None and row.place is not None:
            self.document.choose((row.place,))


def _spread(task: Task, progress: Progress) -> Spread | None:
    errors = errors_on(task.shop.machine)
    return spread_of(task.report, task.bits, errors=errors, progress=progress)
