"""The bench: the middle of the window, where the section lies between its strips."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from profilestack.cutting.stroke import lie_of
from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.placing import place_in_the_middle
from profilestack.desktop.section.view import SectionView
from profilestack.desktop.strips.leftover_strip import LeftoverStrip
from profilestack.desktop.strips.light_strip import LightStrip
from profilestack.geometry.extent import box_of
from profilestack.session.whereabouts import words_at

FARTHEST = 4.0
"""A profile that is so many times as large as its blank is not shown whole."""


class Bench(QWidget):
    """Light strip, section and leftover strip over each other, sharing x to the pixel."""

    place_told = Signal(str)
    """What lies under the cursor, in words; "" where it is over none of the three."""

    held_changed = Signal(str)
    """What holds the pass that is being moved; "" for nothing."""

    def __init__(self, document: Document, axis: Axis) -> None:
        super().__init__()
        self.document, self.axis = document, axis
        self.light = LightStrip(document, axis)
        self.section = SectionView(document, axis)
        self.leftover = LeftoverStrip(document, axis)
        self._fitted = (axis.left, axis.top, axis.scale)
        self._seen = self._whole()
        parts = QSplitter(Qt.Orientation.Vertical)
        parts.setChildrenCollapsible(False)
        for part, share in ((self.light, 0), (self.section, 1), (self.leftover, 0)):
            parts.addWidget(part)
            parts.setStretchFactor(parts.count() - 1, share)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(parts)
        document.changed.connect(self._look)
        document.cursor_moved.connect(self._tell_place)
        document.units_changed.connect(self._tell_place)
        self.section.held_changed.connect(self.held_changed)
        self.setFocusProxy(self.section)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)

    def fit(self) -> None:
        """Show the whole blank."""
        self._show(*self._whole())
        self._fitted = (self.axis.left, self.axis.top, self.axis.scale)

    def fit_chosen(self) -> None:
        """Show the chosen passes, or the whole blank where none is chosen."""
        report, chosen = self.document.report, self.document.chosen
        boxes = [
            stroke.region.bounds
            for stroke in (report.cut.strokes if report is not None else ())
            if stroke.number - 1 in chosen
        ]
        if not boxes:
            self.fit()
            return
        lows_x, lows_z, highs_x, highs_z = zip(*boxes, strict=True)
        self._show((min(lows_x), min(lows_z)), (max(highs_x), max(highs_z)))

    def place_bit(self, bit_id: str) -> bool:
        """A new pass of that bit over the middle of the wanted profile, as deep as it may go."""
        return place_in_the_middle(self.document, bit_id)

    def zoom_in(self) -> None:
        """Larger, about the middle of the section's view."""
        self._zoom(1.25)

    def zoom_out(self) -> None:
        """Smaller, about the middle of the section's view."""
        self._zoom(0.8)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show all of the blank still, where it was shown whole and nobody has zoomed since."""
        super().resizeEvent(event)
        axis = self.axis
        if self._fitted == (axis.left, axis.top, axis.scale):
            # once the parts have their new sizes
            QTimer.singleShot(0, self, self._fit_again)

    @property
    def place_words(self) -> str:
        """What lies under the cursor, in words."""
        report, cursor = self.document.report, self.document.cursor
        if report is None or cursor is None:
            return ""
        return words_at(report, cursor, self.document.units)

    def _whole(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """The corners of the blank's box, and of the profile's where it leaves the blank."""
        stack = self.document.stack
        lie = lie_of(stack.blank, 0.0)
        left, bottom, right, top = 0.0, 0.0, lie.width, lie.height
        if self.document.report is None and stack.target is not None:
            box = box_of(stack.target.path())
            if max(box.width, box.height) <= FARTHEST * max(lie.width, lie.height):
                left, bottom = min(left, box.left), min(bottom, box.bottom)
                right, top = max(right, box.right), max(top, box.top)
        return (left, bottom), (right, top)

    def _look(self) -> None:
        """Another blank, or what leaves it, is shown whole too, unless somebody has zoomed."""
        if self.document.stack is not self.document.session.settled:
            return  # nothing jumps while the hand still moves; it tells the place itself
        self._tell_place()
        whole = self._whole()
        if whole != self._seen:
            self._seen = whole
            self._fit_again()

    def _fit_again(self) -> None:
        axis = self.axis
        if self._fitted == (axis.left, axis.top, axis.scale):
            self.fit()

    def _tell_place(self) -> None:
        self.place_told.emit(self.place_words)

    def _show(self, low: tuple[float, float], high: tuple[float, float]) -> None:
        view = self.section
        edges = (view.ruler_edge, view.ruler_depth + view.numbers_depth)
        self.axis.fit(low, high, view.width(), view.height(), edges)

    def _zoom(self, factor: float) -> None:
        self.axis.zoom(factor, self.section.width() / 2.0, self.section.height() / 2.0)
