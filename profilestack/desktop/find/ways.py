"""The ways found, side by side: a chart and cards that point at each other."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from profilestack.desktop.find.way_card import WayCard
from profilestack.desktop.find.ways_chart import WaysChart
from profilestack.jobs.find import FindResult


class Ways(QWidget):
    """A chart over a list of cards. Pointing at one lights the other."""

    pointed = Signal(object)
    """The place of the way that is pointed at, or None."""

    taken = Signal(int)
    """The place of the way that is chosen."""

    def __init__(self) -> None:
        super().__init__()
        self.chart = WaysChart()
        self.cards: list[WayCard] = []
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.addWidget(self.chart)
        self.chart.pointed.connect(self._point)
        self.chart.taken.connect(self.taken)
        self.chart.hide()

    def show_result(self, result: FindResult | None, units: str) -> None:
        """Show the ways of a result; None shows none."""
        for card in self.cards:
            card.blockSignals(True)
            self._box.removeWidget(card)
            card.hide()
            card.deleteLater()
        self.cards = []
        options = () if result is None else result.options
        allowed = 0.0 if result is None else result.request.leftover
        bits = {} if result is None else {bit.id: bit for bit in result.request.bits}
        for place, option in enumerate(options):
            card = WayCard(place + 1, option, bits, units)
            card.pointed.connect(partial(self._card_pointed, place))
            card.clicked.connect(partial(self._take, place))
            card.moved.connect(partial(self._go, place))
            self._box.addWidget(card)
            self.setTabOrder(self.cards[-1] if self.cards else self.chart, card)
            self.cards.append(card)
        self.chart.show_ways(options, allowed, units)
        self.chart.setVisible(len(options) > 0)

    def say(self, options_of: FindResult, units: str) -> None:
        """The same ways in other units."""
        for card in self.cards:
            card.say(units)
        self.chart.show_ways(options_of.options, options_of.request.leftover, units)

    def allow(self, allowed: bool) -> None:
        """Whether ways can be pointed at and taken."""
        for card in self.cards:
            card.setEnabled(allowed)
        self.chart.setEnabled(allowed)

    def let_go(self) -> None:
        """Point at nothing."""
        self._point(None)

    def _card_pointed(self, place: int, is_on: bool) -> None:
        self._point(place if is_on else None)

    def _point(self, place: int | None) -> None:
        for index, card in enumerate(self.cards):
            card.light(index == place)
        self.chart.light(place)
        self.pointed.emit(place)

    def _take(self, place: int, *_: object) -> None:
        self.taken.emit(place)

    def _go(self, place: int, steps: int) -> None:
        there = min(len(self.cards) - 1, max(0, place + steps))
        self.cards[there].setFocus(Qt.FocusReason.OtherFocusReason)
