"""How the full-size section is printed: paper, margin, reverse, the printer's own error."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLabel, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField
from profilestack.drawing.template.options import BAR, ORIENTATIONS, PAPERS, TemplateOptions

ORIENTATIONS_SAID = {
    "auto": "as fits best", "portrait": "upright", "landscape": "lying",
}  # fmt: skip


class TemplateForm(QWidget):
    """A plain form of :class:`TemplateOptions`; ``options`` are always possible ones."""

    changed = Signal()
    """Other options."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        usual = TemplateOptions()
        self.paper = QComboBox()
        self.orientation = QComboBox()
        self.margin = LengthField(
            document, "Margin", low=0.0, high=30.0, about="Kept free on all sides of the paper."
        )
        self.reverse = QCheckBox("draw it")
        self.clearance = LengthField(
            document, "Clearance", low=0.0, high=5.0,
            about="So far the gauge stands off the wanted profile.",
        )  # fmt: skip
        self.bar_x = self._bar(document, "Bar across", "across")
        self.bar_z = self._bar(document, "Bar up", "up")
        self.margin.value, self.clearance.value = usual.margin, usual.clearance
        self._build()

    @property
    def options(self) -> TemplateOptions:
        """How it is printed now."""
        usual = TemplateOptions()

        def length(field: LengthField, else_: float) -> float:
            return else_ if field.value is None else field.value

        return TemplateOptions(
            paper=self.paper.currentData(),
            orientation=self.orientation.currentData(),
            margin=length(self.margin, usual.margin),
            printed_x=length(self.bar_x, BAR),
            printed_z=length(self.bar_z, BAR),
            reverse=self.reverse.isChecked(),
            clearance=length(self.clearance, usual.clearance),
            units=self._document.units,
        )

    def _bar(self, document: Document, name: str, way: str) -> LengthField:
        about = f"What the 100 mm bar {way} the sheet measured on your printer: it corrects for it."
        field = LengthField(document, name, low=90.0, high=110.0, about=about)
        field.value = BAR
        return field

    def _build(self) -> None:
        for paper, (width, height) in PAPERS.items():
            self.paper.addItem(f"{paper}, {width:.0f} x {height:.0f} mm", paper)
        # as the command line has it: Letter for a stack in inches
        inches = self._document.stack.units == "in"
        self.paper.setCurrentIndex(self.paper.findData("Letter" if inches else "A4"))
        self.paper.setAccessibleName("Paper")
        self.paper.setToolTip("The paper in your printer")
        for word in ORIENTATIONS:
            self.orientation.addItem(ORIENTATIONS_SAID[word], word)
        self.orientation.setAccessibleName("Paper lies")
        self.orientation.setToolTip("How the sheets lie; as fits best takes the fewest")
        self.reverse.setAccessibleName("Reverse (gauge)")
        self.reverse.setToolTip("The counter-section: a gauge, scraper or sanding block")
        about = QLabel(
            "Measure the 100 mm bars on a first print and type what they measured: the next one "
            "comes out true."
        )
        about.setWordWrap(True)
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setSpacing(8)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        form.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        form.addRow("Paper", self.paper)
        form.addRow("Lies", self.orientation)
        form.addRow("Margin", self.margin)
        form.addRow("Reverse (gauge)", self.reverse)
        form.addRow("Clearance", self.clearance)
        form.addRow(about)
        form.addRow("Bar across measured", self.bar_x)
        form.addRow("Bar up measured", self.bar_z)
        for box in (self.paper, self.orientation):
            box.currentIndexChanged.connect(self.changed)
        self.reverse.toggled.connect(self._reverse_toggled)
        for field in (self.margin, self.clearance, self.bar_x, self.bar_z):
            # a field takes its number only after its listeners have had their say
            field.committed.connect(self.changed, Qt.ConnectionType.QueuedConnection)
        self._reverse_toggled()

    def _reverse_toggled(self) -> None:
        on = self.reverse.isChecked()
        self.clearance.setEnabled(on)
        self.changed.emit()
