"""The page of the bits at hand: where they come from, which are shown, what is done with them."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QVBoxLayout,
    QWidget,
)

from profilestack.bits.bit import Bit
from profilestack.bits.library import Library
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.filters import Filters
from profilestack.desktop.drawer.foot import Foot
from profilestack.desktop.drawer.keeping import Keeping
from profilestack.desktop.drawer.model import BIT, BitsModel
from profilestack.desktop.drawer.reaching import Reaching
from profilestack.desktop.drawer.view import BitsView
from profilestack.errors import ProfilestackError
from profilestack.files.library_file import ENDING
from profilestack.session.bit_sources import (
    DRAWER,
    OWN,
    bits_from,
    in_rows,
    source_about,
    source_said,
    sources_of,
)

LIBRARIES = f"Libraries of bits (*{ENDING})"

OPEN = "open"
"""The line of the sources that opens one more file."""


class BitsPage(QWidget):
    """Bits hanging in rows, what is said of the chosen one, and the buttons under it."""

    place_wanted = Signal(str)
    """The id of a bit that is to be placed."""

    def __init__(self, document: Document, keeping: Keeping) -> None:
        super().__init__()
        self.document = document
        self.ask_library: Callable[[], str] = self._ask_library
        self.model = BitsModel(self)
        self.reaching = Reaching(self)
        self.keeping = keeping
        self.source = QComboBox()
        self.filters = Filters(document)
        self.view = BitsView(self.model)
        self.foot = Foot()
        self.shown_from = DRAWER
        """The source whose bits are shown."""
        self._library = Library()
        self._trouble = ""
        self._build()
        self._connect()
        self._show_sources()
        self.model.show_units(document.units)
        self.read_bits()

    @property
    def chosen(self) -> Bit | None:
        """The bit that is chosen."""
        bit = self.view.currentIndex().data(BIT)
        return bit if isinstance(bit, Bit) else None

    def choose(self, bit_id: str) -> None:
        """Choose a bit of those that are shown."""
        self.view.setCurrentIndex(self.model.index_of(bit_id))

    def choose_source(self, source: str) -> None:
        """Show the bits of another source."""
        self.shown_from = source
        self._show_sources()
        self.read_bits()

    def open_library(self, name: str) -> None:
        """Have the bits of one more library file at hand, and show them."""
        try:
            self.document.session.bits_at_hand.open_library(name)
        except ProfilestackError as error:
            self.foot.say(str(error))
            return
        self.shown_from = name
        self.document.look_up_again()

    def focus_bits(self) -> None:
        """Go to the bits, to the first where none is chosen."""
        if self.chosen is None and self.model.bits:
            self.choose(self.model.bits[0].id)
        self.view.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def read_bits(self) -> None:
        """Read the bits of the source anew."""
        self._trouble = ""
        try:
            self._library = bits_from(self.shown_from, self.document.stack)
        except ProfilestackError as error:
            self._library, self._trouble = Library(), str(error)
        self._filter()

    def _build(self) -> None:
        self.source.setAccessibleName("Where the bits come from")
        self.source.setToolTip("Where the bits come from")
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 8, 8, 8)
        box.setSpacing(8)
        for widget in (self.source, self.filters, self.view, self.foot):
            box.addWidget(widget)
        box.setStretchFactor(self.view, 1)

    def _connect(self) -> None:
        self.source.activated.connect(self._take_source)
        self.filters.changed.connect(self._filter)
        self.filters.finished.connect(self.focus_bits)
        self.view.activated.connect(self._place)
        self.view.selectionModel().currentChanged.connect(self._describe)
        self.reaching.told.connect(self._hear_reach)
        self.reaching.failed.connect(self._hear_trouble)
        self.keeping.told.connect(self._hear_kept)
        self.foot.place.clicked.connect(lambda: self._place(self.view.currentIndex()))
        self.foot.take_out.clicked.connect(self._take_out)
        self.foot.put_back.clicked.connect(self._put_back)
        self.document.changed.connect(self._document_changed)
        self.document.bits_changed.connect(self._bits_changed)
        self.document.units_changed.connect(self._units_changed)

    def _show_sources(self) -> None:
        self.source.clear()
        for source in sources_of(self.document.session.bits_at_hand):
            self.source.addItem(source_said(source), source)
            self.source.setItemData(
                self.source.count() - 1, source_about(source), Qt.ItemDataRole.ToolTipRole
            )
        self.source.addItem("Open a library file …", OPEN)
        self.source.setCurrentIndex(max(0, self.source.findData(self.shown_from)))

    def _take_source(self) -> None:
        source = self.source.currentData()
        if source != OPEN:
            self.choose_source(source)
            return
        self.source.setCurrentIndex(self.source.findData(self.shown_from))
        if name := self.ask_library():
            self.open_library(name)

    def _filter(self) -> None:
        chosen = self.chosen
        self.model.show_rows(in_rows(self.filters.applied_to(self._library)))
        if chosen is not None:
            self.choose(chosen.id)
        self.reaching.look(self.document.stack, self.model.bits)
        self._describe()

    def _document_changed(self) -> None:
        if self.shown_from == OWN and self._library.bits != self.document.stack.bits:
            self.read_bits()
        else:
            self.reaching.look(self.document.stack, self.model.bits)

    def _bits_changed(self) -> None:
        self._show_sources()
        self.read_bits()

    def _units_changed(self) -> None:
        self.model.show_units(self.document.units)
        self._describe()

    def _hear_reach(self, reach: object) -> None:
        assert isinstance(reach, dict), "reach by ids"
        self.model.tell(reach)
        self._describe()

    def _hear_trouble(self, words: str) -> None:
        self._trouble = words
        self._describe()

    def _hear_kept(self, words: str) -> None:
        self._describe()
        self.foot.say(words)
        self.foot.put_back.setVisible(self.keeping.can_put_back)

    def _describe(self) -> None:
        """Say at the foot what the chosen bit is good for, or why there is nothing to choose."""
        bit = self.chosen
        if bit is not None:
            text = str(self.view.currentIndex().data(Qt.ItemDataRole.ToolTipRole))
        elif self._trouble:
            text = self._trouble
        elif self.model.bits:
            text = "Drag a bit onto the section, or choose one and press Enter."
        elif self._library.bits:
            text = "No bit is of this shape, size and name."
        elif self.shown_from == OWN:
            text = "This document carries no bits of its own. New … makes one."
        else:
            text = "There is no bit here yet. New … makes one."
        self.foot.say(text)
        why = self.keeping.why_not_out(bit, self.shown_from)
        self.foot.show_choice(bit, source_said(self.shown_from).lower(), why)

    def _place(self, index: QModelIndex) -> None:
        if isinstance(bit := index.data(BIT), Bit):
            self.place_wanted.emit(bit.id)
            known = self.document.session.bit_called(bit.id)
            if known is not None and known != bit:
                self.foot.say(f"Another bit is called {bit.id} nearer at hand: that one is placed.")

    def _take_out(self) -> None:
        bit = self.chosen
        if bit is None:
            return
        try:
            self.keeping.take_out(bit, self.shown_from)
        except ProfilestackError as error:
            self.foot.say(str(error))

    def _put_back(self) -> None:
        try:
            self.keeping.put_back()
        except ProfilestackError as error:
            self.foot.say(str(error))
        self.foot.put_back.setVisible(self.keeping.can_put_back)

    def _ask_library(self) -> str:
        return QFileDialog.getOpenFileName(self, "Open a library of bits", "", LIBRARIES)[0]
