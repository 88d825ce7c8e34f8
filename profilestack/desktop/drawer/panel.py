"""The panel "Bits": what is at hand, what each is good for, and the form of a bit."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFileDialog, QStackedLayout, QWidget

from profilestack.bits.bit import Bit
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.at_hand import LIBRARIES, BitsPage
from profilestack.desktop.drawer.form import FILE, BitForm
from profilestack.desktop.drawer.keeping import Keeping
from profilestack.errors import ProfilestackError
from profilestack.session.bit_sources import DRAWER, OWN


class DrawerPanel(QWidget):
    """Bits at hand. Dragged onto the section, or placed by Enter or a double click."""

    place_wanted = Signal(str)
    """The id of a bit that is to be placed."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.setAccessibleName("Bits")
        self.ask_new_library: Callable[[], str] = self._ask_new_library
        self.keeping = Keeping(document)
        self.at_hand = BitsPage(document, self.keeping)
        self.form = BitForm(document)
        self._pages = QStackedLayout(self)
        self._pages.addWidget(self.at_hand)
        self._pages.addWidget(self.form)
        self._pages.currentChanged.connect(self._turned)
        self._turned(0)
        self.at_hand.place_wanted.connect(self.place_wanted)
        self.at_hand.foot.change.clicked.connect(lambda: self.begin_form(self.chosen))
        self.at_hand.foot.new.clicked.connect(lambda: self.begin_form(None))
        self.form.wanted.connect(self._keep)
        self.form.left.connect(self.focus_bits)

    @property
    def chosen(self) -> Bit | None:
        """The bit that is chosen."""
        return self.at_hand.chosen

    def focus_bits(self) -> None:
        """Go to the bits, to the first where none is chosen."""
        self._pages.setCurrentIndex(0)
        self.at_hand.focus_bits()

    def begin_form(self, bit: Bit | None = None) -> None:
        """Show the form of this bit, or of a new one."""
        shape = self.chosen.shape.word if self.chosen else "straight"
        source = self.at_hand.shown_from
        self._pages.setCurrentIndex(1)
        self.form.begin(bit, source if source in (DRAWER, OWN) else DRAWER, shape)

    def _turned(self, page: int) -> None:
        """Who comes to the panel comes to the bits, or into the form that is open."""
        if page == 0:
            self.setFocusProxy(self.at_hand.view)
        else:
            self.setFocusProxy(None)  # type: ignore[arg-type]  # Qt takes none for no proxy

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
        self.at_hand.choose_source(source)
        self.focus_bits()
        self.at_hand.choose(bit.id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """F2 changes the chosen bit, as it changes names elsewhere."""
        if event.key() == Qt.Key.Key_F2 and self.chosen is not None:
            self.begin_form(self.chosen)
            return
        super().keyPressEvent(event)

    def _ask_new_library(self) -> str:
        return QFileDialog.getSaveFileName(self, "Keep the bit in a library", "", LIBRARIES)[0]
