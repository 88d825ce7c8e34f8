"""The spread as a band in the leftover strip, switched on and off."""

from __future__ import annotations

from PySide6.QtCore import QObject

from profilestack.desktop.machine.after_rest import AfterRest
from profilestack.desktop.strips.leftover_strip import LeftoverStrip


class SpreadOnStrip(QObject):
    """Shows the spread in the strip while it is wanted and holds; a stale one is taken away."""

    def __init__(self, work: AfterRest, strip: LeftoverStrip) -> None:
        super().__init__(strip)
        self._work, self._strip = work, strip
        self.is_on = False
        work.changed.connect(self._show)

    def switch(self) -> None:
        """On, or off again."""
        self.is_on = not self.is_on
        self._work.want("strip", self.is_on)
        self._show()

    def why_not(self) -> str:
        """Why there is none; "" where it can be shown."""
        report = self._work.document.report
        if report is None:
            return "the stack cannot be cut as it is"
        return "" if report.comparison is not None else "there is no wanted profile"

    def _show(self) -> None:
        holds = self.is_on and self._work.is_fresh
        spread = self._work.answer if holds else None
        if spread is not self._strip.spread:
            self._strip.spread = spread
            self._strip.repaint_all()
