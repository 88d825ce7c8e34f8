"""The window of the report: what the command line says of the same stack."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontDatabase, QGuiApplication
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from profilestack.desktop.document import Document
from profilestack.desktop.output.exporting import Exporting, report_export
from profilestack.desktop.output.output_window import OutputWindow
from profilestack.reports.layout import WIDTH
from profilestack.reports.written import REPORTS, report_text


class ReportWindow(OutputWindow):
    """The report of what the document shows, as text or JSON; it follows every edit."""

    def __init__(
        self, document: Document, ask_file: Callable[[QWidget], Path | None], parent: QWidget
    ) -> None:
        super().__init__("Report", document, parent)
        self.ask_file = ask_file
        self.kind = QComboBox()
        self.text = QPlainTextEdit()
        self.copy = QPushButton("&Copy")
        self.save = QPushButton("&Save …")
        self.exporting = Exporting(document, self.notices, self)
        self._build()
        document.changed.connect(self._document_changed)
        document.units_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Say what is so now."""
        report = self.document.report
        for button in (self.copy, self.save):
            button.setEnabled(report is not None)
        # text is laid out in columns; JSON is one long line
        wrap = QPlainTextEdit.LineWrapMode
        lines = self.kind.currentData() != "JSON" and report is not None
        self.text.setLineWrapMode(wrap.NoWrap if lines else wrap.WidgetWidth)
        if report is None:
            text = "\n".join(str(problem) for problem in self.document.session.trouble)
        else:
            text = report_text(report, self.kind.currentData(), self.document.units)
        if text != self.text.toPlainText():
            place = self.text.verticalScrollBar().value()
            self.text.setPlainText(text)
            self.text.verticalScrollBar().setValue(place)

    def _build(self) -> None:
        for kind in REPORTS.values():
            self.kind.addItem(kind, kind)
        self.kind.setAccessibleName("Written as")
        self.kind.setToolTip("Text for people, JSON for other programs")
        self.kind.currentIndexChanged.connect(self.refresh)
        font = QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont)
        font.setPointSizeF(self.font().pointSizeF())
        self.text.setFont(font)
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setAccessibleName("Text of the report")
        self.text.setToolTip("The report of what is shown, as the command line gives it")
        self.text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self.copy.setToolTip("Copy the whole report")
        self.copy.clicked.connect(self._copy)
        self.save.setToolTip("Save the report as text or JSON")
        self.save.clicked.connect(self._save)
        foot = QHBoxLayout()
        foot.addWidget(self.kind)
        foot.addStretch()
        foot.addWidget(self.copy)
        foot.addWidget(self.save)
        inner = QVBoxLayout()
        inner.addWidget(self.text, 1)
        inner.addLayout(foot)
        self.lay_out(inner, spacing=8)
        metrics = self.text.fontMetrics()
        columns = metrics.horizontalAdvance("0" * (WIDTH + 2))
        bar = self.text.verticalScrollBar().sizeHint().width()
        self.resize(columns + bar + 48, 40 * metrics.height())

    def _document_changed(self) -> None:
        if self.isVisible():
            self.refresh()

    def showEvent(self, event: object) -> None:
        """Bring it up to date: nothing was said while it was hidden."""
        self.refresh()

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text.toPlainText())
        self.document.said.emit("The report is on the clipboard")

    def _save(self) -> None:
        report, path = self.document.report, self.ask_file(self)
        if report is not None and path is not None:
            self.exporting.save(report_export(report, self.document.units), path)
