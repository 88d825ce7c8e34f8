"""Does it fit, and the five numbers that matter, large."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.stack_panel.figures import FigureRow, Sign
from profilestack.desktop.stack_panel.signs import BAD, GOOD
from profilestack.desktop.still import StillLabel
from profilestack.jobs.cut import CutReport
from profilestack.planning.minutes import Minutes, minutes_of
from profilestack.session.pass_rows import problem_text
from profilestack.session.verdict import figures_of, verdict_of

MINUTES_WAIT = 80
"""While a hand moves, minutes are worked out when it rests for so long [ms]."""


class VerdictBox(QWidget):
    """The verdict in words and the numbers below it; problems in words where there are some."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.sign = Sign()
        self.words = StillLabel()
        self.figures = FigureRow(5)
        self._minutes: Minutes | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(MINUTES_WAIT)
        self._timer.timeout.connect(self._work_out_minutes)
        self._lay_out()
        document.changed.connect(self.refresh)
        document.units_changed.connect(self._show)
        document.shop_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the document as it is judged now."""
        session = self.document.session
        if session.report is not None and session.stack is session.settled:
            self._timer.stop()
            self._minutes = self._minutes_of(session.report)
        else:
            self._timer.start()
        self._show()

    def _show(self) -> None:
        session, units = self.document.session, self.document.units
        report, moving = session.report, session.stack is not session.settled
        self.figures.setVisible(report is not None)
        if report is None:
            problems = [problem_text(problem) for problem in session.trouble]
            self._say("It cannot be cut.\n" + "\n".join(problems), BAD)
            return
        verdict = verdict_of(report, units)
        words = verdict.words
        if verdict.stops:
            many = "cautions say" if verdict.stops > 1 else "caution says"
            words += f" Do not cut it yet: {verdict.stops} {many} stop."
        sign = {None: "", True: GOOD, False: BAD}[verdict.fits]
        self._say(words, "stop" if verdict.stops else sign, moving=moving)
        figures = figures_of(report, units, self._minutes, self.document.shop)
        self.figures.show_figures(figures, moving=moving)

    def _say(self, words: str, sign: str, *, moving: bool = False) -> None:
        self.words.say(words, moving=moving)
        if words != self.accessibleDescription():
            self.setAccessibleDescription(words)
        self.sign.show_sign(sign)

    def _work_out_minutes(self) -> None:
        report = self.document.report
        if report is not None:
            self._minutes = self._minutes_of(report)
            self._show()

    def _minutes_of(self, report: CutReport) -> Minutes:
        return minutes_of(report.cut, report.comparison, self.document.shop)

    def _lay_out(self) -> None:
        self.setAccessibleName("Verdict")
        bold = QFont(self.font())
        bold.setBold(True)
        bold.setPointSizeF(bold.pointSizeF() * 1.2)
        self.words.setFont(bold)
        top = QHBoxLayout()
        top.setSpacing(8)
        top.addWidget(self.sign, 0, Qt.AlignmentFlag.AlignTop)
        top.addWidget(self.words, 1)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(8)
        box.addLayout(top)
        box.addWidget(self.figures)
