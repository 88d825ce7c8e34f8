"""What the finder tells beside the ways: what stays, what to buy, what was fitted."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from profilestack.desktop.axis import Axis
from profilestack.desktop.find.way_picture import paint_path
from profilestack.desktop.theme import theme_now
from profilestack.finding.adapting.adaptation import Adaptation
from profilestack.jobs.find import FindResult
from profilestack.jobs.find_words import (
    NOTHING_TO_FIT,
    change_lines,
    stretch_place,
    stretch_stays,
)

CHECK = (
    "Overall height and projection are as drawn. Check mating pieces, and what the new work "
    "stands beside, before you cut it so."
)
SETUPS = "Setups are added in the panel Piece."

SURENESS = (
    "Minutes come from usual shop figures: compare ways by them, promise nothing. Every way was "
    "cut and compared at nominal sizes; make a test cut in scrap. The marks on your bits, your "
    "machine's manual, local rules and a qualified operator come first."
)


class Told(QWidget):
    """Lists under their headings; those that are empty are left out."""

    def __init__(self) -> None:
        super().__init__()
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._lines: list[str] = []

    def show_result(self, result: FindResult | None, units: str) -> None:
        """Tell what belongs to a result; None tells nothing."""
        while (item := self._box.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._lines.clear()
        if result is None:
            return
        if result.unreached:
            self._head("No bit reaches")
            stays = [stretch_stays(stretch, units) for stretch in result.unreached]
            for number, (stretch, words) in enumerate(zip(result.unreached, stays, strict=True), 1):
                self._line(f"{number}.  {stretch_place(stretch, units)}: {words}")
            if any("another setup" in words for words in stays):
                self._line(SETUPS)
        if result.buy:
            self._head("What would help")
            for each in result.buy:
                self._line(f"{each.bit.id}: {each.gain}")
        if result.adaptation is not None:
            self._tell_fit(result.adaptation, units)
        self._line(SURENESS)

    def words(self) -> str:
        """All that is told, one line each."""
        return "\n".join(self._lines)

    def _tell_fit(self, adaptation: Adaptation, units: str) -> None:
        self._head("Fitted to the bits")
        lines = list(change_lines(adaptation, units))
        if adaptation.changes:
            self._box.addWidget(FitPicture(adaptation))
        for line in lines or [NOTHING_TO_FIT]:
            self._line(line)
        if adaptation.changes:
            self._line(CHECK)

    def _head(self, text: str) -> None:
        label = self._line(text)
        font = label.font()
        font.setBold(True)
        label.setFont(font)

    def _line(self, text: str) -> QLabel:
        self._lines.append(text)
        label = QLabel(text)
        label.setWordWrap(True)
        label.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self._box.addWidget(label)
        return label


class FitPicture(QWidget):
    """The profile as drawn (dashed) and as fitted, over each other."""

    def __init__(self, adaptation: Adaptation) -> None:
        super().__init__()
        assert adaptation.stack.target is not None, "only a target can be fitted"
        self._drawn, self._fitted = adaptation.drawn, adaptation.stack.target.path()
        self._axis = Axis(self)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Profile as drawn, dashed, and as fitted")
        self.setToolTip("Dashed: as drawn. Solid: as fitted to the bits")

    def sizeHint(self) -> QSize:
        """Twelve lines high."""
        line = self.fontMetrics().lineSpacing()
        return QSize(16 * line, 12 * line)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw both."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme, room = theme_now(), QRectF(self.rect())
        points = self._drawn.flatten(0.02)
        low, high = points.min(axis=0), points.max(axis=0)
        self._axis.fit((low[0], low[1]), (high[0], high[1]), room.width(), room.height())
        paint_path(painter, self._axis, self._fitted, theme.target)
        paint_path(painter, self._axis, self._drawn, theme.ink, Qt.PenStyle.DashLine)
        painter.end()
