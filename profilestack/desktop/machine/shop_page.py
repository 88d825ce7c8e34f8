"""The page "Shop": which shop plans are made for, and where each of its figures comes from."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Choice, Labelled
from profilestack.desktop.machine.page_list import PageList
from profilestack.desktop.paragraph import Paragraph
from profilestack.errors import FileError, InputError
from profilestack.planning.machine import KINDS
from profilestack.session.page_row import PageRow
from profilestack.session.shop_choice import (
    USUAL,
    choice_said,
    figure_rows,
    is_usual,
    shop_chosen,
)

SHOPS = "Shops (*.shop.toml);;All files (*)"
ABOUT = (
    "All figures are assumptions until they are your own. A shop file (NAME.shop.toml) holds those "
    "that differ from the usual; the machine's manual and the marks on your bits come first."
)


class ShopPage(QWidget):
    """A choice, two buttons, a table of figures."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.document = document
        self.ask_file: Callable[[QWidget], str] = _ask_file
        self.choice = Choice("Shop")
        self.choice.setToolTip("Whose figures plans and minutes are reckoned with")
        self.labelled = Labelled("Shop", self.choice)
        self.from_file = QPushButton("From a &file …")
        self.from_file.setToolTip("Take the figures of a shop file")
        self.again = QPushButton("&Read again")
        self.figures = PageList("Figures of the shop", "Every figure, and where it comes from")
        line = QHBoxLayout()
        line.setSpacing(8)
        line.addWidget(self.from_file)
        line.addWidget(self.again)
        line.addStretch()
        about = Paragraph("About the figures", quiet=True)
        about.say(ABOUT)
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 8, 8, 8)
        box.setSpacing(8)
        box.addWidget(self.labelled)
        box.addLayout(line)
        box.addWidget(about)
        box.addWidget(self.figures, 1)
        self.setFocusProxy(self.choice)
        self.choice.activated.connect(self._chosen)
        self.from_file.clicked.connect(self._ask)
        self.again.clicked.connect(lambda: self.take(document.shop_word))
        document.shop_changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        document.changed.connect(self._wood_changed)
        self._wood = document.stack.blank.species
        self.refresh()

    def take(self, word: str) -> None:
        """Take a shop; what is wrong with it is said, and the former one stays."""
        try:
            shop = shop_chosen(word)
        except (FileError, InputError) as error:
            self.labelled.refuse(str(error))
            self._show_choice()
            return
        self.labelled.refuse("")
        self.document.set_shop(word, shop)
        self.document.shop_kept.emit()
        self.document.said.emit(f"Planned for: {choice_said(word, shop)}")

    def refresh(self) -> None:
        """Show the shop of the document."""
        document = self.document
        self._show_choice()
        is_file = not is_usual(document.shop_word)
        self.again.setEnabled(is_file)
        told = "Read the file again after it was edited"
        self.again.setToolTip(told if is_file else f"{told}: these are no file's figures")
        self.figures.rows.show_rows(
            tuple(
                PageRow("said", f"{words}: {value}", source)
                for words, value, source in figure_rows(
                    document.shop, document.stack.blank.species, document.units
                )
            )
        )

    def _show_choice(self) -> None:
        document = self.document
        self.choice.clear()
        for kind in USUAL:
            self.choice.addItem(f"Usual figures: {KINDS[kind]}", kind)
        word = document.shop_word or USUAL[0]
        if not is_usual(word):
            self.choice.addItem(choice_said(word, document.shop), word)
        self.choice.setCurrentIndex(self.choice.findData(word))

    def _chosen(self, index: int) -> None:
        word = self.choice.itemData(index)
        self.take("" if word == USUAL[0] else word)

    def _ask(self) -> None:
        name = self.ask_file(self)
        if name:
            self.take(name)

    def _wood_changed(self) -> None:
        wood = self.document.stack.blank.species
        if wood != self._wood:
            self._wood = wood
            self.refresh()


def _ask_file(parent: QWidget) -> str:
    return QFileDialog.getOpenFileName(parent, "Take the figures of a shop", "", SHOPS)[0]
