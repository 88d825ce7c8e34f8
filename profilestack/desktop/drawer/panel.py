"""The panel "Bits": what is at hand, what each is good for, and the form of a bit."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedLayout,
    QVBoxLayout,
    QWidget,
)

from profilestack.bits.bit import Bit
from profilestack.bits.library import Library
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.filters import Filters
from profilestack.desktop.drawer.form import FILE, BitForm
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
    source_said,
    sources_of,
)

LIBRARIES = f"Libraries of bits (*{ENDING})"
WORDS = 9
"""Lines of text under the bits."""

OPEN = "open"
"""The line of the sources that opens one more file."""


class DrawerPanel(QWidget):
    """Bits at hand. Dragged onto the section, or placed by Enter or a double click."""

    place_wanted = Signal(str)
    """The id of a bit that is to be placed."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.setAccessibleName("Bits")
        self.ask_library: Callable[[], str] = self._ask_library
        self.ask_new_library: Callable[[], str] = self._ask_new_library
        self.model = BitsModel(self)
        self.reaching = Reaching(self)
        self.keeping = Keeping(document)
        self.source = QComboBox()
        self.filters = Filters(document)
        self.view = BitsView(self.model)
        self.words = QLabel()
        self.place = QPushButton("Place")
        self.change = QPushButton("Change …")
        self.new = QPushButton("New …")
        self.take_out = QPushButton("Take out")
        self.put_back = QPushButton("Put back")
        self.form = BitForm(document)
        self._library = Library()
        self._from = DRAWER
        self._trouble = ""
        self._pages = QStackedLayout(self)
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
        self._from = source
        self._show_sources()
        self.read_bits()

    def focus_bits(self) -> None:
        """Go to the bits, to the first where none is chosen."""
        self._leave_form()
        if self.chosen is None and self.model.bits:
            self.choose(self.model.bits[0].id)
        self.view.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def begin_form(self, bit: Bit | None = None) -> None:
        """Show the form of this bit, or of a new one."""
        shape = self.chosen.shape.word if self.chosen else "straight"
        kept_in = self._from if self._from in (DRAWER, OWN) else DRAWER
        self._pages.setCurrentIndex(1)
        self.form.begin(bit, kept_in, shape)

    def read_bits(self) -> None:
        """Read the bits of the source anew."""
        self._trouble = ""
        try:
            self._library = bits_from(self._from, self.document.stack)
        except ProfilestackError as error:
            self._library, self._trouble = Library(), str(error)
        self._filter()

    def _build(self) -> None:
        self.source.setAccessibleName("Where the bits come from")
        self.source.setToolTip("Where the bits come from")
        self.words.setWordWrap(True)
        self.words.setAccessibleName("About the chosen bit")
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
        # room for what is usually said, so that the bits above do not jump
        self.words.setMinimumHeight(WORDS * self.words.fontMetrics().lineSpacing())
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.new.setToolTip("A new bit, of the shape of the chosen one at first")
        self.put_back.setToolTip("Let the file hold again what it held before")
        self.put_back.hide()
        buttons = QHBoxLayout()
        for button in (self.place, self.change, self.new, self.take_out):
            buttons.addWidget(button)
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(8, 8, 8, 8)
        box.setSpacing(8)
        for widget in (self.source, self.filters, self.view, self.words, self.put_back):
            box.addWidget(widget)
        box.setStretchFactor(self.view, 1)
        box.addLayout(buttons)
        self._pages.addWidget(page)
        self._pages.addWidget(self.form)

    def _connect(self) -> None:
        self.source.activated.connect(self._take_source)
        self.filters.changed.connect(self._filter)
        self.filters.finished.connect(self.focus_bits)
        self.view.activated.connect(self._place)
        self.view.selectionModel().currentChanged.connect(self._describe)
        self.reaching.told.connect(self._hear_reach)
        self.reaching.failed.connect(self._hear_trouble)
        self.keeping.told.connect(self._hear_kept)
        self.form.wanted.connect(self._keep)
        self.form.left.connect(self.focus_bits)
        self.place.clicked.connect(lambda: self._place(self.view.currentIndex()))
        self.change.clicked.connect(lambda: self.begin_form(self.chosen))
        self.new.clicked.connect(lambda: self.begin_form(None))
        self.take_out.clicked.connect(self._take_out)
        self.put_back.clicked.connect(self._put_back)
        self.document.changed.connect(self._document_changed)
        self.document.bits_changed.connect(self._bits_changed)
        self.document.units_changed.connect(self._units_changed)

    def _show_sources(self) -> None:
        self.source.clear()
        for source in sources_of(self.document.session.bits_at_hand):
            self.source.addItem(source_said(source), source)
        self.source.addItem("Open a library file …", OPEN)
        self.source.setCurrentIndex(max(0, self.source.findData(self._from)))

    def _take_source(self) -> None:
        source = self.source.currentData()
        if source != OPEN:
            self.choose_source(source)
            return
        self.source.setCurrentIndex(self.source.findData(self._from))
        if name := self.ask_library():
            self.open_library(name)

    def open_library(self, name: str) -> None:
        """Have the bits of one more library file at hand, and show them."""
        try:
            self.document.session.bits_at_hand.open_library(name)
        except ProfilestackError as error:
            self._say(str(error))
            return
        self._from = name
        self.document.look_up_again()

    def _filter(self) -> None:
        chosen = self.chosen
        self.model.show_rows(in_rows(self.filters.applied_to(self._library)))
        if chosen is not None:
            self.choose(chosen.id)
        self.reaching.look(self.document.stack, self.model.bits)
        self._describe()

    def _document_changed(self) -> None:
        if self._from == OWN and self._library.bits != self.document.stack.bits:
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
        self._say(words)
        self.put_back.setVisible(self.keeping.can_put_back)

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
        elif self._from == OWN:
            text = "This document carries no bits of its own. New … makes one."
        else:
            text = "There is no bit here yet. New … makes one."
        self._say(text)
        reason = "" if bit else "Choose a bit first"
        for button, words in (
            (self.place, "Cut a pass with this bit (Enter, or drag it onto the section)"),
            (self.change, "Change this bit, or make another one like it"),
        ):
            button.setEnabled(bit is not None)
            button.setToolTip(reason or words)
        why = self.keeping.why_not_out(bit, self._from)
        self.take_out.setEnabled(not why)
        self.take_out.setToolTip(why or f"Take this bit out of {source_said(self._from).lower()}")

    def _say(self, text: str) -> None:
        self.words.setText(text)

    def _place(self, index: QModelIndex) -> None:
        if isinstance(bit := index.data(BIT), Bit):
            self.place_wanted.emit(bit.id)
            known = self.document.session.bit_called(bit.id)
            if known is not None and known != bit:
                self._say(f"Another bit is called {bit.id} nearer at hand: that one is placed.")

    def _keep(self, bit: Bit, source: str) -> None:
        if source == FILE:
            source = self.ask_new_library()
            if not source:
                return
        try:
            self.keeping.keep(bit, source, self.form.former)
        except ProfilestackError as error:
            self.form.refuse(error)
            return
        self.choose_source(source)
        self.focus_bits()
        self.choose(bit.id)

    def _take_out(self) -> None:
        bit = self.chosen
        if bit is None:
            return
        try:
            self.keeping.take_out(bit, self._from)
        except ProfilestackError as error:
            self._say(str(error))

    def _put_back(self) -> None:
        try:
            self.keeping.put_back()
        except ProfilestackError as error:
            self._say(str(error))
        self.put_back.setVisible(self.keeping.can_put_back)

    def _leave_form(self) -> None:
        self._pages.setCurrentIndex(0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """F2 changes the chosen bit, as it changes names elsewhere."""
        if event.key() == Qt.Key.Key_F2 and self.chosen is not None:
            self.begin_form(self.chosen)
            return
        super().keyPressEvent(event)

    def _ask_library(self) -> str:
        return QFileDialog.getOpenFileName(self, "Open a library of bits", "", LIBRARIES)[0]

    def _ask_new_library(self) -> str:
        return QFileDialog.getSaveFileName(self, "Keep the bit in a library", "", LIBRARIES)[0]
