"""A way to cut it as a card: a small section, what it takes, what it leaves, how sure it is."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QEnterEvent,
    QFocusEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QShowEvent,
)
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout

from profilestack.bits.bit import Bit
from profilestack.desktop.find.way_picture import WayPicture
from profilestack.desktop.theme import theme_now
from profilestack.finding.options import Option
from profilestack.jobs.find import report_of
from profilestack.jobs.find_words import best_at, proof, way_takes, way_verdict


class WayCard(QAbstractButton):
    """A button that takes its way when pressed, and previews it when pointed at or focused."""

    pointed = Signal(bool)
    """The pointer, or the focus of the keys, is on the card now, or has left it."""

    moved = Signal(int)
    """The keys ask for the card so many further down."""

    def __init__(self, number: int, option: Option, bits: Mapping[str, Bit], units: str) -> None:
        super().__init__()
        self._number, self._option = number, option
        self._lit = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        used = [bits[bit_id] for bit_id in option.assembled.bit_ids if bit_id in bits]
        self._picture = WayPicture(report_of(option), used)
        self._picture.setForegroundRole(QPalette.ColorRole.WindowText)
        self._title, self._takes, self._verdict, self._proof = (QLabel() for _ in range(4))
        words = QVBoxLayout()
        words.setSpacing(2)
        for label in (self._title, self._takes, self._verdict, self._proof):
            label.setWordWrap(True)
            label.setForegroundRole(QPalette.ColorRole.WindowText)  # not that of buttons
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            words.addWidget(label)
        words.addStretch()
        font = self._title.font()
        font.setBold(True)
        self._title.setFont(font)
        box = QHBoxLayout(self)
        box.setContentsMargins(8, 8, 8, 8)
        box.addWidget(self._picture, 2)
        box.addLayout(words, 3)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.say(units)

    def say(self, units: str) -> None:
        """Put its figures into words, in "mm" or "in"."""
        option = self._option
        self._title.setText(f"{self._number}  {best_at(option)}")
        self._takes.setText(way_takes(option))
        self._fits, verdict = way_verdict(option, units)
        self._verdict.setText(verdict)
        self._proof.setText(proof(option, units))
        bits = ", ".join(option.assembled.bit_ids)
        self.setAccessibleName(f"Way {self._number}: {best_at(option)}")
        self.setAccessibleDescription(
            f"{way_takes(option)}; {verdict}; {proof(option, units)}; {bits}"
        )
        self.setToolTip(f"{bits}\nPoint to see it on the section; click or press Enter to take it")
        self._recolor()

    def light(self, lit: bool) -> None:
        """Show it as the one that is pointed at, here or on the chart."""
        if lit != self._lit:
            self._lit = lit
            self._recolor()

    def sizeHint(self) -> QSize:
        """As its layout asks."""
        layout = self.layout()
        assert layout is not None, "it was made with one"
        return layout.sizeHint()

    def hasHeightForWidth(self) -> bool:
        """Words wrap."""
        return True

    def heightForWidth(self, width: int) -> int:
        """As its layout asks."""
        layout = self.layout()
        assert layout is not None, "it was made with one"
        return layout.heightForWidth(width)

    def paintEvent(self, event: QPaintEvent) -> None:
        """A sheet of paper with an edge; a second edge when it has the focus."""
        theme = theme_now()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.quiet if self._lit else theme.rule), 1.0))
        painter.setBrush(QColor(theme.chosen if self._lit else theme.paper))
        painter.drawRoundedRect(self.rect().adjusted(1, 1, -2, -2), 4, 4)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(theme.chosen_ink if self._lit else theme.ink), 1.0))
            painter.drawRoundedRect(self.rect().adjusted(3, 3, -4, -4), 3, 3)
        painter.end()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter takes it, Up and Down go to the other cards."""
        key = event.key()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.moved.emit(-1 if key == Qt.Key.Key_Up else 1)
        else:
            super().keyPressEvent(event)

    def enterEvent(self, event: QEnterEvent) -> None:
        """Preview."""
        super().enterEvent(event)
        self.pointed.emit(True)

    def leaveEvent(self, event: QEvent) -> None:
        """No longer."""
        super().leaveEvent(event)
        self.pointed.emit(False)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The keys point as the mouse does; coming back to the window points at nothing."""
        super().focusInEvent(event)
        if event.reason() in (
            Qt.FocusReason.TabFocusReason,
            Qt.FocusReason.BacktabFocusReason,
            Qt.FocusReason.ShortcutFocusReason,
            Qt.FocusReason.OtherFocusReason,
        ):
            self.pointed.emit(True)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """No longer."""
        super().focusOutEvent(event)
        self.pointed.emit(False)

    def changeEvent(self, event: QEvent) -> None:
        """Follow the theme."""
        super().changeEvent(event)
        kinds = (QEvent.Type.PaletteChange, QEvent.Type.EnabledChange)
        if event.type() in kinds:
            self._recolor()

    def showEvent(self, event: QShowEvent) -> None:
        """Take the colours of the moment."""
        super().showEvent(event)
        self._recolor()

    def _recolor(self) -> None:
        theme = theme_now()
        ink = theme.chosen_ink if self._lit else theme.ink if self.isEnabled() else theme.quiet
        verdict = theme.inside if self._fits else theme.leftover
        plain = self._lit or not self.isEnabled()
        for label, color in (
            (self._title, ink), (self._takes, ink), (self._verdict, ink if plain else verdict),
            (self._proof, theme.chosen_ink if self._lit else theme.quiet), (self._picture, ink),
        ):  # fmt: skip
            palette = label.palette()
            palette.setColor(QPalette.ColorRole.WindowText, QColor(color))
            label.setPalette(palette)
        self.update()
