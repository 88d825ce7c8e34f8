"""The words at the foot of the window: what is under the cursor, what holds a moved pass."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from profilestack.desktop.bench import Bench

USUAL = "x 000.00 mm   z 00.00 mm  ·  leftover +0.00 mm (proud)  ·  cut by pass 10, core-box-2in"
"""A line of usual length."""


class PlaceWords(QWidget):
    """Follows a bench: the one place where the place under the pointer is told in words."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.held = QLabel()
        self.held.setAccessibleName("Held by")
        self.place = QLabel()
        self.place.setAccessibleName("Under the pointer")
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 0, 8, 0)
        row.setSpacing(16)
        row.addWidget(self.held)
        row.addWidget(self.place)
        # always as wide as a usual line, so that nothing at the foot jumps
        usual = self.place.fontMetrics().horizontalAdvance(USUAL)
        self.place.setMinimumWidth(usual)
        bench.place_told.connect(self.place.setText)
        bench.held_changed.connect(self._tell_hold)

    def _tell_hold(self, words: str) -> None:
        self.held.setText(f"→ {words}" if words else "")
