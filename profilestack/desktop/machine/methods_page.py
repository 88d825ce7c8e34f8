"""The page "Methods": stacked bits beside 3D ball-nose finishing and a cutter made to order."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Choice, Labelled, Trouble
from profilestack.desktop.machine.after_rest import AfterRest, Task
from profilestack.desktop.machine.methods_plot import MethodsChart
from profilestack.desktop.machine.page_list import PageList
from profilestack.desktop.paragraph import Paragraph
from profilestack.jobs.methods import MethodsReport, methods_for
from profilestack.progress import Progress
from profilestack.session.method_lines import methods_plot, methods_rows
from profilestack.session.plan_words import why_no_plan

WORKING = "Being worked out …"
NOTHING = "There is no wanted profile that other ways could make too."


class MethodsPage(QWidget):
    """A chart, and under it each way in figures and words."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.document = document
        self.work = AfterRest(document, _methods, self)
        self.message = Paragraph("State", quiet=True)
        self.trouble = Trouble()
        self.quantity = Choice("Up in the chart")
        self.quantity.addItem("Cost", "cost")
        self.quantity.addItem("Minutes", "minutes")
        self.quantity.setToolTip("What the lines of the chart show")
        self.chart = MethodsChart()
        self.list = PageList("Methods", "Each way in figures and words")
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 8, 8, 8)
        box.setSpacing(8)
        for part in (self.message, self.trouble, Labelled("Up in the chart", self.quantity)):
            box.addWidget(part)
        box.addWidget(self.chart)
        box.addWidget(self.list, 1)
        self.setFocusProxy(self.quantity)
        self.quantity.currentIndexChanged.connect(self.refresh)
        self.work.changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show what is known now."""
        methods: MethodsReport | None = self.work.answer
        fresh, units = self.work.is_fresh, self.document.units
        report = self.document.report
        compares = report is not None and report.comparison is not None
        why = why_no_plan(self.document.stack)
        self.trouble.say(self.work.trouble if fresh and compares and not why else "")
        self.message.say(NOTHING if not compares else why or ("" if fresh else WORKING))
        for part in (self.list, self.chart):
            part.setEnabled(fresh)
        if methods is None:
            self.chart.show_plot(None)
            self.list.rows.show_rows(())
            return
        self.chart.show_plot(methods_plot(methods, self.quantity.currentData(), units))
        self.list.rows.show_rows(methods_rows(methods, units))


def _methods(task: Task, progress: Progress) -> MethodsReport:
    del progress  # a second's work
    return methods_for(task.stack, task.bits, task.shop)
