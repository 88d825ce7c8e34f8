"""The section: blank, wood, passes and wanted profile, painted, and edited under the hand."""

from __future__ import annotations

import math

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QHideEvent, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QWidget

from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.balloons import (
    CLEAR,
    Balloon,
    balloons_of,
    handle_size,
    paint_balloons,
)
from profilestack.desktop.section.falling import Falling
from profilestack.desktop.section.marks import paint_ridges
from profilestack.desktop.section.out_of_sight import paint_out_of_sight
from profilestack.desktop.section.overlay import (
    paint_contacts,
    paint_cursor,
    paint_numbers,
    paint_spot,
)
from profilestack.desktop.section.rulers import depth_of, edge_of, paint_rulers
from profilestack.desktop.section.wood import Wood
from profilestack.desktop.theme import theme_now
from profilestack.session.moving import Move


class Canvas(QWidget):
    """Paints the section where ``axis`` puts it; the hands are a class of their own.

    The section is painted once into a picture, and again when something in it changes; what moves
    with the pointer is painted over it.
    """

    held_changed = Signal(str)
    """What holds the pass that is being moved; "" for nothing."""

    def __init__(self, document: Document, axis: Axis, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        # nothing shows through, so nothing below is painted with it
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.document, self.axis = document, axis
        self.move_now: Move | None = None
        self.pointer = QPointF()
        self.balloons: list[Balloon] = []
        self.falling = Falling(self)
        self._wood = Wood(document, axis)
        self._rulers: tuple[QPixmap, QPixmap] | None = None
        self._rulers_size = QSize()
        self._picture = QPixmap()
        self._is_stale = True
        for signal in (
            document.changed, document.chosen_changed, document.pointed_changed,
            document.moment_changed, document.findings_changed,
        ):  # fmt: skip
            signal.connect(self.repaint_section)
        for signal in (axis.changed, document.units_changed):
            signal.connect(self.repaint_all)
        document.cursor_moved.connect(self.update)

    @property
    def ruler_edge(self) -> float:
        """Room that the rulers take at the left [px]."""
        return edge_of(self.font())

    @property
    def ruler_depth(self) -> float:
        """Room that the rulers take at the top [px]."""
        return depth_of(self.font())

    @property
    def numbers_depth(self) -> float:
        """Room for two rows of numbers over the blank [px]."""
        return CLEAR + 2.0 * handle_size(self.font())

    def sizeHint(self) -> QSize:
        """Room for a molding to be looked at."""
        return QSize(720, 480)

    def minimumSizeHint(self) -> QSize:
        """Room for the rulers and a little more."""
        return QSize(240, 160)

    def repaint_section(self) -> None:
        """Something in the section changed."""
        self._is_stale = True
        self.update()

    def repaint_all(self) -> None:
        """It lies elsewhere, or looks another way."""
        self._rulers = None
        self.repaint_section()

    def balloon_at(self, place: QPointF) -> int | None:
        """The index of the pass whose number is there."""
        half = handle_size(self.font()) / 2.0
        for balloon in self.balloons:
            off = balloon.middle - place
            if off.x() ** 2 + off.y() ** 2 <= half**2:
                return balloon.index
        return None

    def changeEvent(self, event: QEvent) -> None:
        """Other colours or another font."""
        super().changeEvent(event)
        if event.type() in (
            QEvent.Type.PaletteChange, QEvent.Type.FontChange, QEvent.Type.ApplicationPaletteChange,
        ):  # fmt: skip
            self.repaint_all()

    def hideEvent(self, event: QHideEvent) -> None:
        """Nothing moves where nobody looks."""
        super().hideEvent(event)
        self.falling.end()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Put the pictures on the screen, and over them what moves with the pointer."""
        theme = theme_now()
        ratio = self.devicePixelRatioF()
        size = self.size() * ratio
        if self._is_stale or self._picture.size() != size:
            self._paint_section(size, ratio)
            self._is_stale = False
        if self._rulers is None or self._rulers_size != size:
            self._rulers, self._rulers_size = self._painted_rulers(size, ratio), size
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._picture)
        paint_cursor(painter, self.document, self.axis, theme, self.height())
        paint_spot(painter, self.document, self.axis, theme)
        if self.move_now is not None:
            paint_contacts(painter, self.move_now, self.axis, theme)
        self.falling.paint(painter, theme)
        top, side = self._rulers
        painter.drawPixmap(0, 0, top)
        painter.drawPixmap(QPointF(0.0, top.deviceIndependentSize().height()), side)
        if self.move_now is not None:
            paint_numbers(
                painter, self.move_now, self.document.units, theme, self.font(), self.pointer,
                QRectF(self.rect()),
            )  # fmt: skip
        if self.hasFocus():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
            painter.setPen(QColor(theme.target))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))

    def _paint_section(self, size: QSize, ratio: float) -> None:
        """Paint the picture anew; on the same sheet where its size allows: new ones cost time."""
        theme, document = theme_now(), self.document
        if self._picture.size() != size:
            self._picture = QPixmap(size)
        self._picture.setDevicePixelRatio(ratio)
        self._picture.fill(QColor(theme.paper))
        painter = QPainter(self._picture)
        painter.setFont(self.font())
        self._wood.paint(painter, theme, ratio)
        self.balloons = []
        room = QRectF(self.rect()).adjusted(self.ruler_edge, self.ruler_depth, 0.0, 0.0)
        if document.report is not None:
            self._wood.paint_lit(painter, theme, self.falling.index)
            pointed = () if document.pointed is None else (document.pointed,)
            lit = frozenset((*document.chosen, *pointed))
            sight = (room.left(), room.top(), room.right(), room.bottom())
            self.balloons = balloons_of(self._wood.axes(), self.axis, self.font(), lit, sight)
            paint_balloons(painter, self.balloons, document, theme, ratio)
            if document.moment is None:
                report, units, balloons = document.report, document.units, self.balloons
                paint_ridges(painter, report, self.axis, units, theme, balloons, room)
        else:
            self._paint_trouble(painter)
        paint_out_of_sight(painter, self, self.axis, document.stack.blank, room)
        painter.end()

    def _paint_trouble(self, painter: QPainter) -> None:
        """Why nothing is cut; the blank and the wanted profile are seen all the same."""
        theme = theme_now()
        text = "\n".join(str(problem) for problem in self.document.session.trouble)
        edge, depth = self.ruler_edge + 16.0, self.ruler_depth + 16.0
        room = QRectF(self.rect()).adjusted(edge, depth, -16.0, -16.0)
        text, flags = f"This cannot be cut:\n{text}", int(Qt.TextFlag.TextWordWrap)
        words = painter.boundingRect(room, flags, text)
        painter.fillRect(words.adjusted(-8.0, -8.0, 8.0, 8.0), QColor(theme.paper))
        painter.setPen(QColor(theme.ink))
        painter.drawText(room, flags, text)

    def _painted_rulers(self, size: QSize, ratio: float) -> tuple[QPixmap, QPixmap]:
        """The band along the top, and the one at the left below it."""
        picture = QPixmap(size)
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        room = QRectF(self.rect())
        paint_rulers(painter, self.axis, self.document.units, theme_now(), room, self.font())
        painter.end()
        high, wide = (
            math.ceil((edge + 1.0) * ratio) for edge in (self.ruler_depth, self.ruler_edge)
        )
        top = picture.copy(0, 0, size.width(), high)
        return top, picture.copy(0, high, wide, size.height() - high)
