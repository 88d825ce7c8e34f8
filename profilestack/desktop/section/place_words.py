"""The words at the foot of the window: what is under the cursor, what holds a moved pass."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QWidget

from profilestack.desktop.bench import Bench
from profilestack.desktop.still import StillWords

USUAL = "x 000.00 mm   z 00.00 mm  ·  leftover +0.00 mm (proud)  ·  cut by pass 10, core-box-2in"
HELD = "→ flush with the right edge, as deep as pass 10"
"""Lines of usual length: so wide the words always are, and nothing at the foot jumps."""


class PlaceWords(QWidget):
    """Follows a bench: the one place where the place under the pointer is told in words."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.held = StillWords("Held by", HELD)
        self.place = StillWords("Under the pointer", USUAL)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 0, 8, 0)
        row.setSpacing(16)
        row.addWidget(self.held)
        row.addWidget(self.place)
        bench.place_told.connect(self.place.setText)
        bench.held_changed.connect(self._tell_hold)

    def _tell_hold(self, words: str) -> None:
        self.held.setText(f"→ {words}" if words else "")
