"""The panel "Machine": the stack as it is cut in this shop."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QDockWidget, QTabWidget, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.machine.methods_page import MethodsPage
from profilestack.desktop.machine.plan_page import PlanPage
from profilestack.desktop.machine.shop_page import ShopPage
from profilestack.desktop.machine.spread_page import SpreadPage
from profilestack.desktop.machine.test_cut_page import TestCutPage


class MachinePanel(QWidget):
    """Pages: plan, methods, spread, test cut, shop; each is worked out only while it is seen."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self._is_seen = False
        self.setAccessibleName("Machine")
        self.plan = PlanPage(document)
        self.methods = MethodsPage(document)
        self.spread = SpreadPage(document)
        self.test_cut = TestCutPage(document)
        self.shop = ShopPage(document)
        self.pages = QTabWidget()
        self.pages.setDocumentMode(True)
        self.pages.setUsesScrollButtons(True)
        self.pages.setElideMode(Qt.TextElideMode.ElideNone)
        self.pages.tabBar().setAccessibleName("Pages of the machine")
        for page, title, about in (
            (self.plan, "Plan", "Order, depths, speeds and minutes"),
            (self.methods, "Methods", "Stacked bits beside 3D and a made-to-order cutter"),
            (self.spread, "Spread", "What comes of the shop's usual errors"),
            (self.test_cut, "Test", "What a measured test cut tells"),
            (self.shop, "Shop", "Whose figures these are"),
        ):
            place = self.pages.addTab(page, title)
            self.pages.setTabToolTip(place, about)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.pages)
        self.setFocusProxy(self.pages.tabBar())
        self.pages.currentChanged.connect(self._look)

    def event(self, event: QEvent) -> bool:
        """Notice the dock: behind another tab a panel still counts as visible."""
        if event.type() == QEvent.Type.ParentChange:
            dock = self.parentWidget()
            if isinstance(dock, QDockWidget):
                dock.visibilityChanged.connect(self._seen)
        return super().event(event)

    def _seen(self, is_seen: bool) -> None:
        self._is_seen = is_seen
        self._look()

    def _look(self) -> None:
        """Work out what is seen now, and nothing that nobody sees."""
        shown = self.pages.currentWidget() if self._is_seen else None
        for page in (self.plan, self.methods, self.spread, self.test_cut):
            page.work.want("page", shown is page)
