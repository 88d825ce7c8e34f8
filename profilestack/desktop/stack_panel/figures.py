"""The numbers that matter, large, in one row or as many as large type needs."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from profilestack.desktop.stack_panel.signs import BAD, GOOD, draw_sign
from profilestack.desktop.theme import theme_now
from profilestack.session.verdict import Figure

GAP = 8
"""Between boxes [pixels]."""

SIGN_GAP = 4
"""Between a sign and its number [pixels]."""

_WORDS = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)


class Sign(QWidget):
    """One sign, as high as the type."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sign = ""
        self.hide()
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_sign(self, sign: str) -> None:
        """Show another sign, or none."""
        if sign != self.sign:
            self.sign = sign
            self.setVisible(bool(sign))
            self.update()

    def sizeHint(self) -> QSize:
        """A square of the type's height."""
        high = self.fontMetrics().height()
        return QSize(high, high)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it in the colours of the moment."""
        painter = QPainter(self)
        draw_sign(painter, self.sign, QRectF(self.rect()).adjusted(1, 1, -1, -1), theme_now())
        painter.end()


class FigureBox(QWidget):
    """One number, large, with its name above and its measure below.

    Painted here and not by labels: these would have the panel laid out anew with every number.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        # nothing shows through, so nothing below is painted with it
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.figure = Figure("", "")
        self._large = QFont()
        self._size = QSize()
        self._restyle()

    @property
    def sign(self) -> str:
        """The sign before the number."""
        return {None: "", True: GOOD, False: BAD}[self.figure.holds]

    def show_figure(self, figure: Figure, *, moving: bool = False) -> None:
        """Show another number; while a hand is ``moving`` no room is given back."""
        if figure == self.figure:
            if not moving:
                self._measure()
            return
        self.figure = figure
        self.setToolTip(figure.about)
        measure = f", {figure.beside}" if figure.beside else ""
        held = {None: "", True: ", holds", False: ", broken"}[figure.holds]
        self.setAccessibleName(f"{figure.name}: {figure.text}{measure}{held}")
        self._measure(self._size.width() if moving else 0)
        self.update()

    def sizeHint(self) -> QSize:
        """Room for all three lines."""
        return self._size

    def changeEvent(self, event: QEvent) -> None:
        """Other type needs other room."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._restyle()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Three lines, in the colours of the moment."""
        del event
        theme, figure = theme_now(), self.figure
        line, high = self.fontMetrics().height(), QFontMetrics(self._large).height()
        color = {None: theme.ink, True: theme.inside, False: theme.leftover}[figure.holds]
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self.palette().window())
            painter.setPen(QColor(theme.quiet))
            painter.drawText(QRect(0, 0, self.width(), line), _WORDS, figure.name)
            painter.drawText(QRect(0, line + high, self.width(), line), _WORDS, figure.beside)
            if self.sign:
                room = QRectF(0.0, line + (high - line) / 2.0, line, line)
                draw_sign(painter, self.sign, room.adjusted(1, 1, -1, -1), theme)
            painter.setFont(self._large)
            painter.setPen(QColor(color))
            left = self._sign_room()
            painter.drawText(QRect(left, line, self.width() - left, high), _WORDS, figure.text)

    def _sign_room(self) -> int:
        return self.fontMetrics().height() + SIGN_GAP if self.sign else 0

    def _restyle(self) -> None:
        self._large = QFont(self.font())
        self._large.setPointSizeF(self.font().pointSizeF() * 1.6)
        self._large.setFeature(QFont.Tag("tnum"), 1)
        self._measure()

    def _measure(self, least: int = 0) -> None:
        """Ask for other room where other words need it, and for no less than ``least``."""
        small, large = self.fontMetrics(), QFontMetrics(self._large)
        wide = max(
            small.horizontalAdvance(self.figure.name),
            self._sign_room() + large.horizontalAdvance(self.figure.text),
            small.horizontalAdvance(self.figure.beside),
        )
        size = QSize(max(wide + 1, least), 2 * small.height() + large.height())
        if size != self._size:
            self._size = size
            self.updateGeometry()


class FigureRow(QWidget):
    """Boxes beside each other: all in one line, else the first two and the others below."""

    def __init__(self, count: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.boxes = [FigureBox(self) for _ in range(count)]
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_figures(self, figures: tuple[Figure, ...], *, moving: bool = False) -> None:
        """Show other numbers; while a hand is ``moving`` no column jumps back."""
        for box, figure in zip(self.boxes, figures, strict=True):
            box.show_figure(figure, moving=moving)

    def event(self, event: QEvent) -> bool:
        """A box wants another size: lay all out anew."""
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
            self._place(self.width())
        return super().event(event)

    def hasHeightForWidth(self) -> bool:
        """A narrow row has more lines."""
        return True

    def heightForWidth(self, width: int) -> int:
        """The height of the lines at a width."""
        return max(rect.bottom() + 1 for rect in self._rects(width))

    def sizeHint(self) -> QSize:
        """All in one line."""
        sizes = [box.sizeHint() for box in self.boxes]
        wide = sum(size.width() for size in sizes) + GAP * (len(sizes) - 1)
        return QSize(wide, max(size.height() for size in sizes))

    def minimumSizeHint(self) -> QSize:
        """One below the other."""
        sizes = [box.sizeHint() for box in self.boxes]
        return QSize(max(size.width() for size in sizes), max(size.height() for size in sizes))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the boxes out anew."""
        super().resizeEvent(event)
        self._place(event.size().width())

    def _place(self, width: int) -> None:
        for box, rect in zip(self.boxes, self._rects(width), strict=True):
            box.setGeometry(rect)

    def _rects(self, width: int) -> list[QRect]:
        sizes = [box.sizeHint() for box in self.boxes]
        rects: list[QRect] = []
        top = 0
        for line in lines_of([size.width() for size in sizes], width):
            inside = sizes[len(rects) : len(rects) + line]
            high = max(size.height() for size in inside)
            share = (width + GAP) // line
            equal = line == 1 or max(size.width() for size in inside) + GAP <= share
            left = 0
            for size in inside:
                rects.append(QRect(left, top, size.width(), high))
                left += share if equal else size.width() + GAP
            top += high + GAP
        return rects


def lines_of(widths: list[int], room: int) -> list[int]:
    """How many boxes stand in each line: all in one, else two (of one sort) and the rest below.

    In a narrow place the two stand below each other, the others still side by side.
    """
    rest = len(widths) - 2
    for lines in ([2 + rest], [2, rest], [2, 2, rest - 2], [1, 1, rest], [1, 1, 2, rest - 2]):
        starts = [sum(lines[:k]) for k in range(len(lines))]
        parts = [widths[start : start + many] for start, many in zip(starts, lines, strict=True)]
        if all(sum(part) + GAP * (len(part) - 1) <= room for part in parts):
            return lines
    return [1] * len(widths)
