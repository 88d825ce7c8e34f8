"""The view of the bits at hand."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QDrag
from PySide6.QtWidgets import QListView, QWidget

from profilestack.desktop.drawer.hanging import HangingBit
from profilestack.desktop.drawer.model import BitsModel

BESIDE = 12
"""Between a carried bit's picture and the pointer [px]."""


class BitsView(QListView):
    """Bits hanging in rows, wrapped at the width of the view."""

    def __init__(self, model: BitsModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
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
        """Carry the chosen bit, its picture beside the pointer: the section shows the cut there."""
        self.drag_now().exec(Qt.DropAction.CopyAction)

    def drag_now(self) -> QDrag:
        """What is carried when the chosen bit is dragged."""
        chosen = self.currentIndex()
        picture = self.viewport().grab(self.visualRect(chosen))
        seen = picture.deviceIndependentSize().toSize()
        drag = QDrag(self)
        drag.setMimeData(self.model().mimeData([chosen]))
        drag.setPixmap(picture)
        drag.setHotSpot(QPoint(seen.width() + BESIDE, seen.height()))
        return drag

    def changeEvent(self, event: QEvent) -> None:
        """Another font or another style: other sizes."""
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._hanging.forget_sizes()
            self.scheduleDelayedItemsLayout()
        super().changeEvent(event)
