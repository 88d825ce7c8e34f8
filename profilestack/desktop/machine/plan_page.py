"""The page "Plan": the stack as the steps in which this shop's machine cuts it."""

from __future__ import annotations

from PySide6.QtCore import QItemSelectionModel, QModelIndex
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Trouble
from profilestack.desktop.machine.after_rest import AfterRest, Task
from profilestack.desktop.machine.page_list import PageList
from profilestack.desktop.paragraph import Paragraph
from profilestack.jobs.plan import plan_for
from profilestack.planning.plan import Plan
from profilestack.progress import Progress
from profilestack.session.plan_words import plan_rows, plan_summary, why_no_plan
from profilestack.session.planned_order import LABEL, in_planned_order, planned_order_said
from profilestack.session.shop_choice import choice_said

WORKING = "Being worked out …"
NOTHING = "There is no plan: the stack cannot be cut as it is."


class PlanPage(QWidget):
    """Minutes in words, the list of cuts, and the button that takes the planned order."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.document = document
        self.work = AfterRest(document, _plan, self)
        self.shop = Paragraph("Shop", quiet=True)
        self.minutes = Paragraph("Minutes", bold=True)
        self.parts = Paragraph("What the minutes go into", quiet=True)
        self.trouble = Trouble()
        self.list = PageList("Plan", "The cuts in their order; choosing one chooses its pass")
        self.take = QPushButton(LABEL)
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 8, 8, 8)
        box.setSpacing(8)
        for part in (self.shop, self.minutes, self.parts, self.trouble):
            box.addWidget(part)
        box.addWidget(self.list, 1)
        box.addWidget(self.take)
        self.setFocusProxy(self.list)
        self.take.clicked.connect(self._take)
        self.list.selectionModel().currentChanged.connect(self._chosen)
        self.work.changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        document.shop_changed.connect(self.refresh)
        document.chosen_changed.connect(self._follow)
        self.refresh()

    @property
    def plan(self) -> Plan | None:
        """The plan that is shown; None where there is none."""
        plan: Plan | None = self.work.answer
        return plan

    def refresh(self) -> None:
        """Show what is known now."""
        document, plan, fresh = self.document, self.plan, self.work.is_fresh
        self.shop.say(choice_said(document.shop_word, document.shop))
        why = why_no_plan(document.stack)
        self.trouble.say(self.work.trouble if fresh and not why else "")
        for part in (self.parts, self.list):
            part.setEnabled(fresh)
        if plan is None:
            self.list.rows.show_rows(())
            words = NOTHING if document.report is None else "" if fresh else WORKING
            self.minutes.say(why or words)
            self.parts.say("")
        else:
            minutes, parts = plan_summary(plan)
            self.minutes.say(minutes if fresh else WORKING)
            self.parts.say(parts)
            self.list.rows.show_rows(plan_rows(plan, document.units))
            self._follow()
        self._enable(plan if fresh else None)

    def _enable(self, plan: Plan | None) -> None:
        told = planned_order_said(plan) if plan is not None else ""
        self.take.setEnabled(bool(told))
        about = f"{told[:1].upper()}{told[1:]}, as one step that can be undone."
        if plan is None:
            about = "There is no plan yet."
        elif not told:
            about = "The stack is in the planned order already."
        self.take.setToolTip(about)
        self.take.setAccessibleDescription(about)

    def _take(self) -> None:
        plan = self.plan
        if plan is None or not self.work.is_fresh:
            return
        edited = in_planned_order(plan, self.document.session.bits_at_hand.find)
        if edited is not None:
            self.document.edit(*edited)

    def _chosen(self, current: QModelIndex, _before: QModelIndex) -> None:
        row = self.list.row(current)
        if self.work.is_fresh and row is not None and row.place is not None:
            self.document.choose((row.place,))

    def _follow(self) -> None:
        """Show the pass that is chosen elsewhere."""
        chosen, now = self.document.chosen, self.list.row(self.list.currentIndex())
        if not self.work.is_fresh or (now is not None and (now.place,) == chosen):
            return
        for number, row in enumerate(self.list.rows.rows):
            if row.kind == "pass" and (row.place,) == chosen:
                index = self.list.rows.index(number)
                flag = QItemSelectionModel.SelectionFlag.ClearAndSelect
                self.list.selectionModel().setCurrentIndex(index, flag)
                self.list.scrollTo(index)
                return
        self.list.clearSelection()


def _plan(task: Task, progress: Progress) -> Plan:
    del progress  # a second's work
    return plan_for(task.stack, task.bits, task.shop)
