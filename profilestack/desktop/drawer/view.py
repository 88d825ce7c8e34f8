"""The view of the bits at hand."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QListView, QWidget

from profilestack.desktop.drawer.hanging import HangingBit
from profilestack.desktop.drawer.model import BitsModel


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

    def changeEvent(self, event: QEvent) -> None:
        """Another font or another style: other sizes."""
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._hanging.forget_sizes()
            self.scheduleDelayedItemsLayout()
        super().changeEvent(event)
