"""The numbered check dimensions of the run sheet, with a field for each reading."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField
from profilestack.desktop.labelled import Labelled
from profilestack.planning.check_dimensions import CheckDimension
from profilestack.session.measure_words import check_about, check_said


class ReadingsForm(QWidget):
    """A field each; what is not measured is left empty.

    What the field with the focus asks for is pointed at on the bench.
    """

    changed = Signal()

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self.checks: tuple[CheckDimension, ...] = ()
        self.fields: dict[int, LengthField] = {}
        self._rows: list[Labelled] = []
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(8)
        document.units_changed.connect(self._units_changed)

    @property
    def readings(self) -> dict[int, float]:
        """What was measured [mm], by the numbers of the dimensions."""
        found = {number: field.value for number, field in self.fields.items()}
        return {number: value for number, value in found.items() if value is not None}

    @property
    def trouble(self) -> str:
        """What is wrong in one of the fields."""
        return next((field.trouble for field in self.fields.values() if field.trouble), "")

    def commit(self) -> None:
        """Take what is being typed."""
        for field in self.fields.values():
            field.commit()

    def show_checks(self, checks: Sequence[CheckDimension]) -> None:
        """Show these dimensions; readings of others are no readings of these."""
        if tuple(checks) == self.checks:
            return
        self.checks = tuple(checks)
        for row in self._rows:
            self._box.removeWidget(row)
            row.hide()
            row.deleteLater()
        self._rows, self.fields = [], {}
        for check in checks:
            field = LengthField(
                self._document, f"Check {check.number}", optional=True, about=check_about(check)
            )
            # a field takes its number only after its listeners have had their say
            for told in (field.committed, field.cleared):
                told.connect(self.changed, Qt.ConnectionType.QueuedConnection)
            field.installEventFilter(self)
            row = Labelled(check_said(check, self._document.units), field)
            self.fields[check.number] = field
            self._rows.append(row)
            self._box.addWidget(row)
        self.changed.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Point at what is to be measured."""
        if event.type() == QEvent.Type.FocusIn:
            for check in self.checks:
                if self.fields.get(check.number) is watched:
                    self._document.move_cursor(check.at)
        return super().eventFilter(watched, event)

    def _units_changed(self) -> None:
        for check, row in zip(self.checks, self._rows, strict=True):
            row.label.setText(check_said(check, self._document.units))
