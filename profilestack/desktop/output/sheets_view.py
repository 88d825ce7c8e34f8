"""Sheets of paper as they come out of the printer, side by side on the bench."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QImage,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QScrollArea, QWidget

from profilestack.desktop.output.painting import paint_steps
from profilestack.desktop.output.slices import Slices
from profilestack.desktop.theme import theme_now
from profilestack.drawing.drawing import Drawing

GAP = 16
"""Between sheets [pixels]."""

ZOOM_STEP = 1.25
LEAST, MOST = 0.4, 16.0
"""Pixels to a mm."""


class _Table(QWidget):
    """The sheets in rows, each painted once for each size."""

    def __init__(self, view: SheetsView) -> None:
        super().__init__(view)
        self._view = view
        self.sheets: tuple[Drawing, ...] = ()
        self.per_mm = 1.0
        self._pictures: list[QImage] = []
        self._slices = Slices(self)
        self.setAccessibleName("Sheets")

    @property
    def is_busy(self) -> bool:
        return self._slices.is_busy

    def lay(self, sheets: tuple[Drawing, ...], per_mm: float, width: int) -> None:
        """Show these sheets, ``per_mm`` pixels to a mm, in a view of so many pixels."""
        if (sheets, per_mm) != (self.sheets, self.per_mm):
            self.sheets, self.per_mm = sheets, per_mm
            self._pictures = []
            self._slices.run(self._painted())
        rooms = self._rooms(width)
        right = max((room.right() for room in rooms), default=0.0)
        bottom = max((room.bottom() for room in rooms), default=0.0)
        self.resize(max(width, round(right) + GAP), round(bottom) + GAP)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """White paper with an edge; what is on it comes as soon as it is painted."""
        theme = theme_now()
        painter = QPainter(self)
        painter.fillRect(event.rect(), QColor(theme.panel))
        for number, room in enumerate(self._rooms(self._view.viewport().width())):
            painter.fillRect(room.translated(3.0, 3.0), QColor(theme.rule))
            painter.fillRect(room, QColor("white"))
            if number < len(self._pictures):
                painter.drawImage(room.topLeft(), self._pictures[number])
            painter.setPen(QPen(QColor(theme.quiet), 1.0))
            painter.drawRect(room)
        painter.end()

    def _rooms(self, width: int) -> list[QRectF]:
        """Where the sheets lie: as many beside each other as there is room for, in the middle."""
        rooms: list[QRectF] = []
        x, y, tall = float(GAP), float(GAP), 0.0
        for sheet in self.sheets:
            size = sheet.width * self.per_mm, sheet.height * self.per_mm
            if rooms and x + size[0] + GAP > width:
                x, y, tall = float(GAP), y + tall + GAP, 0.0
            rooms.append(QRectF(QPointF(round(x), round(y)), QPointF(x + size[0], y + size[1])))
            x, tall = x + size[0] + GAP, max(tall, size[1])
        right = max((room.right() for room in rooms), default=0.0)
        spare = max(0, round((width - right - GAP) / 2.0))
        return [room.translated(spare, 0.0) for room in rooms]

    def _painted(self) -> Iterator[None]:
        ratio = self.devicePixelRatioF()
        for sheet in self.sheets:
            per_mm = self.per_mm * ratio
            size = QSize(round(sheet.width * per_mm), round(sheet.height * per_mm))
            picture = QImage(size, QImage.Format.Format_RGB32)
            picture.fill(QColor("white"))
            painter = QPainter(picture)
            try:
                yield from paint_steps(painter, sheet, per_mm)
            finally:
                painter.end()
            picture.setDevicePixelRatio(ratio)
            self._pictures.append(picture)
            self.update()
            yield


class SheetsView(QScrollArea):
    """A preview of sheets: first so large that one is seen whole; + and - or Ctrl and the wheel."""

    def __init__(self) -> None:
        super().__init__()
        self._table = _Table(self)
        self.setWidget(self._table)
        self.setAccessibleName("Preview of the sheets")
        self.setToolTip("The sheets as they come out of the printer; + and - zoom, 0 shows all")
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        # a bar that comes and goes would lay the sheets anew
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self._sheets: tuple[Drawing, ...] = ()
        self._per_mm: float | None = None

    @property
    def sheets(self) -> tuple[Drawing, ...]:
        """The sheets that are shown."""
        return self._sheets

    @property
    def per_mm(self) -> float:
        """Pixels to a mm."""
        return self._table.per_mm

    @property
    def is_busy(self) -> bool:
        """Whether sheets are still being painted."""
        return self._table.is_busy

    def show_sheets(self, sheets: Sequence[Drawing]) -> None:
        """Show these sheets instead; the zoom stays."""
        self._sheets = tuple(sheets)
        size = f"{sheets[0].width:.0f} x {sheets[0].height:.0f} mm" if sheets else ""
        self._table.setAccessibleDescription(f"{len(sheets)} sheets {size}")
        self._lay()

    def zoom(self, factor: float) -> None:
        """Larger or smaller."""
        self._per_mm = min(MOST, max(LEAST, self.per_mm * factor))
        self._lay()

    def fit(self) -> None:
        """So large that a whole sheet is seen."""
        self._per_mm = None
        self._lay()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Plus, minus, 0."""
        if event.key() in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom(ZOOM_STEP)
        elif event.key() == Qt.Key.Key_Minus:
            self.zoom(1.0 / ZOOM_STEP)
        elif event.key() == Qt.Key.Key_0:
            self.fit()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """With Ctrl it zooms."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.zoom(ZOOM_STEP ** (event.angleDelta().y() / 120.0))
            event.accept()
            return
        super().wheelEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the sheets anew."""
        super().resizeEvent(event)
        self._lay()

    def changeEvent(self, event: QEvent) -> None:
        """Another theme: another bench under the sheets."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._table.update()

    def _lay(self) -> None:
        room = self.viewport().size()
        self._table.lay(self._sheets, self._per_mm or self._fitting(room), room.width())

    def _fitting(self, room: QSize) -> float:
        if not self._sheets:
            return 1.0
        wide = max(sheet.width for sheet in self._sheets)
        tall = max(sheet.height for sheet in self._sheets)
        fits = min((room.width() - 2 * GAP) / wide, (room.height() - 2 * GAP) / tall)
        return min(MOST, max(LEAST, fits))
