"""The order of cutting as a slider: the blank after each pass."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSlider, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.session.pass_rows import moment_text


class OrderSlider(QWidget):
    """Steps through the order; at its right end stands what all passes leave."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.words = QLabel()
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName("Moment in the order of cutting")
        self.slider.setToolTip(
            "See the blank after each pass. Left and Right step; End: when all are cut."
        )
        self.slider.setPageStep(1)
        self.slider.setTickPosition(QSlider.TickPosition.TicksBelow)
        self.slider.setTickInterval(1)
        self.words.setBuddy(self.slider)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.words)
        box.addWidget(self.slider)
        self.slider.valueChanged.connect(self._slid)
        document.changed.connect(self.refresh)
        document.moment_changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Stand where the document looks."""
        document = self.document
        count = len(document.stack.passes)
        moment = document.moment
        self.slider.blockSignals(True)
        if count != self.slider.maximum():  # each of these paints the slider anew
            self.slider.setRange(0, count)
            self.slider.setTickInterval(max(1, count // 24))
        self.slider.setValue(count if moment is None else moment)
        self.slider.blockSignals(False)
        if self.slider.isEnabled() != (count > 0):
            self.slider.setEnabled(count > 0)
        said = moment_text(document.stack, document.session.bits, moment, document.units)
        if said != self.words.text():
            self.words.setText(said)
            self.slider.setAccessibleDescription(said)

    def _slid(self, value: int) -> None:
        is_end = value >= len(self.document.stack.passes)
        self.document.look_at_moment(None if is_end else value)
