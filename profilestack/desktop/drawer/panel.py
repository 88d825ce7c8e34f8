"""The panel "Bits": what is at hand, chosen by source, shape, size and words."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QModelIndex, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListView,
    QVBoxLayout,
    QWidget,
)

from profilestack.bits.bit import Bit
from profilestack.bits.library import Library, filtered
from profilestack.bits.shapes import SHAPES
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.hanging import HangingBit
from profilestack.desktop.drawer.model import BIT, BitsModel
from profilestack.desktop.drawer.reaching import Reaching
from profilestack.desktop.fields import LengthField
from profilestack.errors import ProfilestackError
from profilestack.session.bit_sources import (
    DRAWER,
    OWN,
    bits_from,
    in_rows,
    source_said,
    sources_of,
)

ALL_SHAPES = "All shapes"


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
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setSelectionMode(QListView.SelectionMode.SingleSelection)
        self.setDragEnabled(True)
        self.setDragDropMode(QListView.DragDropMode.DragOnly)
        self.setMouseTracking(True)
        self.setAccessibleName("Bits at hand")
        self._hanging = HangingBit(self)
        self.setItemDelegate(self._hanging)

    def changeEvent(self, event: QEvent) -> None:
        """Another font or another theme."""
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._hanging.forget_sizes()
            self.scheduleDelayedItemsLayout()
        super().changeEvent(event)


class DrawerPanel(QWidget):
    """Bits at hand. Dragged onto the section, or asked for by Enter or a double click."""

    place_wanted = Signal(str)
    """The id of a bit that is to be placed."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.setAccessibleName("Bits")
        self._library = Library()
        self.model = BitsModel(self)
        self.reaching = Reaching(self)
        self.source = QComboBox()
        self.search = QLineEdit()
        self.shape = QComboBox()
        self.smallest = LengthField(
            document,
            "Smallest diameter",
            low=0.0,
            optional=True,
            about="Bits that cut this wide or wider.",
        )
        self.largest = LengthField(
            document,
            "Largest diameter",
            low=0.0,
            optional=True,
            about="Bits that cut this wide or narrower.",
        )
        self.view = BitsView(self.model)
        self.words = QLabel()
        self._build()
        self._connect()
        self._show_sources()
        self._show_units()
        self._read()

    def _build(self) -> None:
        self.source.setAccessibleName("Where the bits come from")
        self.source.setToolTip("Where the bits come from")
        self.search.setAccessibleName("Search bits")
        self.search.setPlaceholderText("Search: 3/8 cove, cyma, half-round")
        self.search.setToolTip("Words of a bit's name, kind or note; other usual names count too")
        self.search.setClearButtonEnabled(True)
        self.shape.setAccessibleName("Shape")
        self.shape.setToolTip("Bits of this shape alone")
        self.shape.addItem(ALL_SHAPES, None)
        for word in SHAPES:
            self.shape.addItem(word.replace("-", " "), word)
        self.smallest.setPlaceholderText("from")
        self.largest.setPlaceholderText("to")
        self.words.setWordWrap(True)
        self.words.setAccessibleName("About these bits")
        sizes = QHBoxLayout()
        sizes.addWidget(self.shape, 2)
        sizes.addWidget(self.smallest, 1)
        sizes.addWidget(self.largest, 1)
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 8, 8, 8)
        box.setSpacing(8)
        box.addWidget(self.source)
        box.addWidget(self.search)
        box.addLayout(sizes)
        box.addWidget(self.view, 1)
        box.addWidget(self.words)

    def _connect(self) -> None:
        self.source.activated.connect(self._read)
        self.search.textChanged.connect(self._filter)
        self.search.returnPressed.connect(self.focus_bits)
        self.shape.currentIndexChanged.connect(self._filter)
        for field in (self.smallest, self.largest):
            # the field takes a number only after its listeners have had their say
            field.committed.connect(self._filter, Qt.ConnectionType.QueuedConnection)
            field.cleared.connect(self._filter)
        self.view.activated.connect(self._place)
        self.reaching.told.connect(self.model.tell)
        self.reaching.failed.connect(self._say_trouble)
        self.document.changed.connect(self._document_changed)
        self.document.units_changed.connect(self._show_units)

    @property
    def chosen(self) -> Bit | None:
        """The bit that is chosen."""
        bit = self.view.currentIndex().data(BIT)
        return bit if isinstance(bit, Bit) else None

    def focus_bits(self) -> None:
        """Go to the bits, to the first where none is chosen."""
        if self.chosen is None and self.model.bits:
            self.view.setCurrentIndex(self.model.index_of(self.model.bits[0].id))
        self.view.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _show_sources(self) -> None:
        now = self.source.currentData() or DRAWER
        self.source.clear()
        for source in sources_of(self.document.session.bits_at_hand):
            self.source.addItem(source_said(source), source)
        self.source.setCurrentIndex(max(0, self.source.findData(now)))

    def _read(self) -> None:
        """Read the bits of the source anew."""
        try:
            self._library = bits_from(self.source.currentData(), self.document.stack)
        except ProfilestackError as error:
            self._library = Library()
            self._say_trouble(str(error))
        self._filter()

    def _filter(self) -> None:
        word = self.shape.currentData()
        shapes = () if word is None else (word,)
        found = filtered(
            self._library, shapes, self.smallest.value, self.largest.value, self.search.text()
        )
        chosen = self.chosen
        self.model.show_rows(in_rows(found))
        if chosen is not None:
            self.view.setCurrentIndex(self.model.index_of(chosen.id))
        self._look()

    def _look(self) -> None:
        self.reaching.look(self.document.stack, self.model.bits)

    def _document_changed(self) -> None:
        if self.source.currentData() == OWN and self._library.bits != self.document.stack.bits:
            self._read()
        else:
            self._look()

    def _show_units(self) -> None:
        self.model.show_units(self.document.units)

    def _place(self, index: QModelIndex) -> None:
        if isinstance(bit := index.data(BIT), Bit):
            self.place_wanted.emit(bit.id)

    def _say_trouble(self, words: str) -> None:
        self.words.setText(words)
        self.words.setVisible(bool(words))
