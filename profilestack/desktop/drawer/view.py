"""The view of the bits at hand."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QItemSelectionModel, QPoint, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QDrag, QFocusEvent, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QListView, QWidget

from profilestack.desktop.drawer.hanging import HangingBit
from profilestack.desktop.drawer.model import BIT, BitsModel
from profilestack.desktop.theme import theme_now

BESIDE = 16
"""Between the pointer and a carried bit's picture, to its left and below [px]."""

LIGHT = 0.5
"""So much of its ink has a carried bit's picture: what lies under it is seen."""

FRAME = 2.0
"""How thick the frame is that shows where the keys go [px]."""

BY_HAND = (
    Qt.FocusReason.MouseFocusReason,
    Qt.FocusReason.ActiveWindowFocusReason,
    Qt.FocusReason.PopupFocusReason,
)
"""Who comes so has not come for the first bit."""


class BitsView(QListView):
    """Bits hanging in rows, wrapped at the width of the view."""

    def __init__(self, model: BitsModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._bits = model
        self.setModel(model)
        self.setFlow(QListView.Flow.LeftToRight)
        self.setWrapping(True)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # a bar that comes and goes would wrap the rows anew
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setSelectionMode(QListView.SelectionMode.SingleSelection)
        self.setDragEnabled(True)
        self.setDragDropMode(QListView.DragDropMode.DragOnly)
        self.setMouseTracking(True)
        self.setAccessibleName("Bits at hand")
        self._hanging = HangingBit(self)
        self.setItemDelegate(self._hanging)

    def startDrag(self, _actions: Qt.DropAction) -> None:
        """Carry the chosen bit, its picture at the pointer's lower left: the aim is free."""
        self.drag_now().exec(Qt.DropAction.CopyAction)

    def drag_now(self) -> QDrag:
        """What is carried when the chosen bit is dragged."""
        chosen = self.currentIndex()
        picture = _lightened(self.viewport().grab(self.visualRect(chosen)))
        drag = QDrag(self)
        drag.setMimeData(self.model().mimeData([chosen]))
        drag.setPixmap(picture)
        drag.setHotSpot(QPoint(picture.deviceIndependentSize().toSize().width(), 0))
        return drag

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Who comes by key finds a bit chosen, so that Enter has one to place."""
        super().focusInEvent(event)
        if event.reason() not in BY_HAND and not self.selectionModel().hasSelection():
            bits = self._bits.bits
            chosen = self.currentIndex()
            if chosen.data(BIT) is None and bits:
                chosen = self._bits.index_of(bits[0].id)
            self.setCurrentIndex(chosen)
            self.selectionModel().select(chosen, QItemSelectionModel.SelectionFlag.ClearAndSelect)

    def paintEvent(self, event: QPaintEvent) -> None:
        """A frame shows that the keys go to the bits."""
        super().paintEvent(event)
        if self.hasFocus():
            painter = QPainter(self.viewport())
            painter.setPen(QPen(QColor(theme_now().target), FRAME))
            inset = FRAME / 2.0
            room = QRectF(self.viewport().rect()).adjusted(inset, inset, -inset, -inset)
            painter.drawRect(room)
            painter.end()

    def scrollContentsBy(self, dx: int, dy: int) -> None:
        """The frame does not go with what is scrolled."""
        super().scrollContentsBy(dx, dy)
        self.viewport().update()

    def changeEvent(self, event: QEvent) -> None:
        """Another font or another style: other sizes."""
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._hanging.forget_sizes()
            self.scheduleDelayedItemsLayout()
        super().changeEvent(event)


def _lightened(picture: QPixmap) -> QPixmap:
    """The picture half transparent, with nothing above it and at its right, up to the pointer."""
    ratio = picture.devicePixelRatio()
    light = QPixmap(picture.size() + QSize(BESIDE, BESIDE) * ratio)
    light.setDevicePixelRatio(ratio)
    light.fill(Qt.GlobalColor.transparent)
    painter = QPainter(light)
    painter.setOpacity(LIGHT)
    painter.drawPixmap(QPointF(0.0, BESIDE), picture)
    painter.end()
    return light
