"""Where a profile lies in the blank: moved, scaled, turned, mirrored."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import AngleField, LengthField
from profilestack.desktop.labelled import Labelled
from profilestack.desktop.number_field import NumberField
from profilestack.errors import InputError, Problem
from profilestack.stack import FileTarget
from profilestack.targets.members import MemberColumn
from profilestack.targets.placement import LARGEST_SHIFT, SCALES

Placed = MemberColumn | FileTarget


class FactorField(NumberField):
    """A factor: how many times as large."""

    def read(self, text: str) -> float:
        """A decimal, or a fraction such as 1/2."""
        top, _, bottom = text.partition("/")
        try:
            return float(top) / float(bottom or 1)
        except (ValueError, ZeroDivisionError):
            raise InputError(
                Problem("", f"{text!r} is no factor", "a number such as 1, 0.5 or 1/2")
            ) from None

    def say(self, number: float) -> str:
        """The number."""
        return f"{number:.10g}"

    def step(self) -> float:
        """A hundredth."""
        return 0.01


class PlacingForm(QWidget):
    """Fields for ``at``, ``scale``, ``rotation`` and ``mirror``."""

    edited = Signal(object, str)
    """Changes by key, and what the edit is called."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._at = (0.0, 0.0)
        far = LARGEST_SHIFT
        self.right = LengthField(document, "Moved right", low=-far, high=far)
        self.up = LengthField(document, "Moved up", low=-far, high=far)
        self.scale = FactorField("Scale", low=SCALES[0], high=SCALES[1])
        self.rotation = AngleField(
            "Turned", low=-360.0, high=360.0, about="Counter-clockwise, before it is moved"
        )
        self.mirror = QCheckBox("Left and right swapped")
        self.mirror.setToolTip("Mirror the profile inside its own box")
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        for place, field in enumerate((self.right, self.up, self.scale, self.rotation)):
            grid.addWidget(Labelled(field.accessibleName(), field), place // 2, place % 2)
        grid.addWidget(self.mirror, 2, 0, 1, 2)
        self.right.committed.connect(
            lambda x: self._tell(self.right, "Move the profile", at=(x, self._at[1]))
        )
        self.up.committed.connect(
            lambda z: self._tell(self.up, "Move the profile", at=(self._at[0], z))
        )
        self.scale.committed.connect(
            lambda scale: self._tell(self.scale, "Scale the profile", scale=scale)
        )
        self.rotation.committed.connect(
            lambda angle: self._tell(self.rotation, "Turn the profile", rotation=angle)
        )
        self.mirror.toggled.connect(lambda on: self._tell(None, "Mirror the profile", mirror=on))

    def show_placed(self, placed: Placed) -> None:
        """Show where it lies."""
        self._at = placed.at
        self.right.value, self.up.value = placed.at
        self.scale.value, self.rotation.value = placed.scale, placed.rotation
        self.mirror.blockSignals(True)
        self.mirror.setChecked(placed.mirror)
        self.mirror.blockSignals(False)

    def _tell(self, field: NumberField | None, label: str, **changes: Any) -> None:
        self.edited.emit((field, changes), label)
