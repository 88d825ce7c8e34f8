"""What both strips have in common: they lie on the section's axis and share its cursor line."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.inks import pen
from profilestack.desktop.section.overlay import paint_cursor
from profilestack.desktop.section.rulers import edge_of, small
from profilestack.desktop.theme import Theme, theme_now


class Strip(QWidget):
    """A view over or under the section; painted once, again when something in it changes."""

    LINES = 4
    """So many lines of text high."""

    def __init__(self, document: Document, axis: Axis, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document, self.axis = document, axis
        self._picture = QPixmap()
        self._is_stale = True
        self._ground: tuple[tuple[object, ...], QPixmap] | None = None
        self._panned: QPointF | None = None
        # nothing shows through, so nothing below is painted with it
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMouseTracking(True)
        document.changed.connect(self.follow)
        for signal in (document.moment_changed, document.units_changed):
            signal.connect(self.repaint_all)
        axis.changed.connect(self.repaint_all)
        document.cursor_moved.connect(self.update_drawing)

    @property
    def edge(self) -> float:
        """Room for numbers at the left, as wide as the section's ruler [px]."""
        return edge_of(self.font())

    def sizeHint(self) -> QSize:
        """As high as its lines, wide as the section."""
        return QSize(720, round(self.LINES * 1.5 * QFontMetricsF(self.font()).height()))

    def minimumSizeHint(self) -> QSize:
        """It can be made flat, not narrow."""
        return QSize(240, round(2.5 * QFontMetricsF(self.font()).height()))

    def follow(self) -> None:
        """The stack changed, perhaps under a hand that still moves."""
        self.repaint_all()

    def repaint_all(self) -> None:
        """Something in it changed."""
        self._is_stale = True
        self.update()

    def update_drawing(self) -> None:
        """Paint again only what lies on the section's axis: not what stands at the left of it."""
        self.update(round(self.edge), 0, self.width(), self.height())

    @property
    def ground(self) -> QPixmap | None:
        """What does not change in a drag, as it was painted last."""
        return None if self._ground is None else self._ground[1]

    def ground_asked(self) -> tuple[object, ...]:
        """What the ground shows besides theme, type and size; it is kept while that is equal."""
        return ()

    def paint_ground(self, painter: QPainter, theme: Theme, room: QRectF) -> None:
        """Draw what does not change in a drag, with the panel at the left."""
        self.paint_edge(painter, theme, room)

    def paint_strip(self, painter: QPainter, theme: Theme, room: QRectF) -> None:
        """Draw on the ground, at the right of the panel, all but the cursor."""
        raise NotImplementedError

    def paint_over(self, painter: QPainter, theme: Theme, room: QRectF) -> None:
        """Draw what moves with the pointer."""

    def place_under(self, pixel: QPointF) -> tuple[float, float] | None:
        """The place of the section that is meant at a pixel [mm]."""
        raise NotImplementedError

    def changeEvent(self, event: QEvent) -> None:
        """Other colours or another font."""
        super().changeEvent(event)
        if event.type() in (
            QEvent.Type.PaletteChange, QEvent.Type.FontChange, QEvent.Type.ApplicationPaletteChange,
        ):  # fmt: skip
            self.repaint_all()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Put the picture on the screen, and the cursor over it."""
        theme, ratio = theme_now(), self.devicePixelRatioF()
        size = self.size() * ratio
        room = QRectF(self.rect())
        if self._is_stale or self._picture.size() != size:
            if self._picture.size() != size:
                self._picture = QPixmap(size)
            self._picture.setDevicePixelRatio(ratio)
            painter = QPainter(self._picture)
            painter.drawPixmap(0, 0, self._ground_now(theme, size, ratio))
            painter.setFont(small(self.font()))
            painter.setClipRect(room.adjusted(self.edge + 1.0, 0.0, 0.0, 0.0))
            self.paint_strip(painter, theme, room)
            painter.end()
            self._is_stale = False
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._picture)
        painter.setClipRect(QRectF(self.edge, 0.0, room.width(), room.height()))
        paint_cursor(painter, self.document, self.axis, theme, self.height())
        self.paint_over(painter, theme, room)
        if self.hasFocus():
            painter.setClipping(False)
            painter.setPen(pen(theme.target))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))

    def _ground_now(self, theme: Theme, size: QSize, ratio: float) -> QPixmap:
        asked = (theme.name, size, ratio, self.font().key(), *self.ground_asked())
        if self._ground is None or self._ground[0] != asked:
            picture = QPixmap(size)
            picture.setDevicePixelRatio(ratio)
            picture.fill(QColor(theme.paper))
            painter = QPainter(picture)
            painter.setFont(small(self.font()))
            self.paint_ground(painter, theme, QRectF(self.rect()))
            painter.end()
            self._ground = (asked, picture)
        return self._ground[1]

    def paint_edge(self, painter: QPainter, theme: Theme, room: QRectF) -> None:
        """The panel at the left where numbers and words stand."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillRect(QRectF(0.0, 0.0, self.edge, room.height()), QColor(theme.panel))
        painter.setPen(pen(theme.rule))
        painter.drawLine(QPointF(self.edge, 0.0), QPointF(self.edge, room.height()))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the paper."""
        if event.button() == Qt.MouseButton.MiddleButton:
            self._panned = event.position()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Show the place on the section."""
        at = event.position()
        if self._panned is not None:
            self.axis.pan(at.x() - self._panned.x(), 0.0)
            self._panned = at
            return
        self.document.move_cursor(self.place_under(at))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        if event.button() == Qt.MouseButton.MiddleButton:
            self._panned = None

    def leaveEvent(self, event: QEvent) -> None:
        """The pointer is elsewhere."""
        super().leaveEvent(event)
        self.document.move_cursor(None)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Larger or smaller about the pointer's x."""
        turned = event.angleDelta().y()
        if turned:
            middle = self.axis.pixel_of_z(0.0)
            self.axis.zoom(1.2 ** (turned / 120.0), event.position().x(), middle)
        event.accept()
