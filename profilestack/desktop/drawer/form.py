"""The form of a new or changed bit, with its drawing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import SHAPES
from profilestack.desktop.background import Background
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.bit_drawing import BitDrawing
from profilestack.desktop.drawer.form_lines import FormLines
from profilestack.errors import InputError, ProfilestackError
from profilestack.files.path_keys import path_table
from profilestack.geometry.extent import box_of
from profilestack.jobs.bit_outline import DrawnOutline, read_outline
from profilestack.progress import Progress
from profilestack.session import bit_form
from profilestack.session.bit_sources import DRAWER, OWN, source_said

OUTLINE = "outline"
"""The key that is read from a drawing."""

FILE = "file"
"""A place to keep a bit in that has to be asked for."""

DRAWINGS = "Drawings (*.dxf *.svg)"


class BitForm(QWidget):
    """Asks for a bit. :attr:`wanted` is it, with where it is to be kept."""

    wanted = Signal(object, str)
    """A sound bit, and the source in which it is to be kept."""

    left = Signal()
    """Nothing is to be kept."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.former: str | None = None
        """The id that a changed bit had; None for a new one."""
        self.ask_drawing: Callable[[], str] = self._ask_drawing
        self._filled: bit_form.Filled = {}
        self._own_id = False
        self._asked = False
        self.title = QLabel()
        self.shape = QComboBox()
        self.drawing = BitDrawing(document)
        self.message = QLabel()
        self.keep_in = QComboBox()
        self.keep = QPushButton("Keep")
        self.leave = QPushButton("Leave")
        self.lines = FormLines(document)
        self.lines.changed.connect(self._take)
        self.lines.drawing_wanted.connect(self._read_drawing)
        self.background = Background(self)
        self.background.done.connect(self._take_drawing)
        self.background.failed.connect(self.refuse)
        self._build()

    def begin(self, bit: Bit | None, source: str, shape: str = "straight") -> None:
        """A new form: of a known bit, or of a new one of a usual size."""
        self.former = bit.id if bit else None
        self._own_id, self._asked = bit is not None, False
        self.title.setText(f"Change {bit.name}" if bit else "New bit")
        self._filled = (
            bit_form.filled_from(bit) if bit else bit_form.new_bit(shape, self.document.units)
        )
        self._offer_places(source)
        self.message.hide()
        self.drawing.forget()
        self._show_shape()
        self.shape.setFocus(Qt.FocusReason.OtherFocusReason)

    def refuse(self, error: ProfilestackError) -> None:
        """Say why the bit was not kept: at its key where it has one, else at the foot."""
        words = [str(error)]
        if isinstance(error, InputError):
            words = [str(problem) for problem in self.lines.say(error.problems, missing_too=True)]
        self.message.setText("\n".join(words))
        self.message.setVisible(bool(words))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves the form."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
            return
        super().keyPressEvent(event)

    def _build(self) -> None:
        self.title.setAccessibleName("Form of a bit")
        font = self.title.font()
        font.setBold(True)
        self.title.setFont(font)
        self.shape.setAccessibleName("Shape of the bit")
        self.shape.setToolTip("Shape of the edge; what both shapes have is kept")
        for word in SHAPES:
            self.shape.addItem(word.replace("-", " "), word)
        self.shape.activated.connect(self._change_shape)
        self.keep_in.setAccessibleName("Keep it in")
        self.keep_in.setToolTip("Where the bit is kept")
        self.keep.setToolTip("Keep the bit as it is drawn")
        self.keep.clicked.connect(self._keep)
        self.leave.setToolTip("Leave the form; nothing is kept (Esc)")
        self.leave.clicked.connect(self.left)
        self.message.setWordWrap(True)
        self.message.hide()
        foot = QHBoxLayout()
        foot.addWidget(self.keep)
        foot.addWidget(self.leave)
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 8, 8, 8)
        box.setSpacing(8)
        for widget in (self.title, self.shape, self.drawing, self.lines, self.message):
            box.addWidget(widget)
        box.setStretchFactor(self.lines, 1)
        # a file's name needs the whole width of a narrow panel
        box.addWidget(self.keep_in)
        box.addLayout(foot)

    def _offer_places(self, source: str) -> None:
        self.keep_in.clear()
        files = self.document.session.bits_at_hand.libraries
        for place in (DRAWER, OWN, *(name for name in files if not name.startswith("@"))):
            self.keep_in.addItem(source_said(place), place)
        self.keep_in.addItem("A library file …", FILE)
        self.keep_in.setCurrentIndex(max(0, self.keep_in.findData(source)))

    def _show_shape(self) -> None:
        self.shape.setCurrentIndex(self.shape.findData(self._filled["shape"]))
        self.lines.show_shape(self._filled)
        self._judge()

    def _change_shape(self) -> None:
        self._filled = bit_form.with_shape(self._filled, self.shape.currentData())
        self._show_shape()

    def _take(self, word: str) -> None:
        value = self.lines.rows[word].value
        if value is None:
            self._filled.pop(word, None)
        else:
            self._filled[word] = value
        self._own_id = self._own_id or word == "id"
        self._judge()

    def _judge(self) -> Bit | None:
        """Draw the bit, or say at each key what is wrong."""
        if not self._own_id and (id := bit_form.suggested_id(self._filled, self.document.units)):
            self._filled["id"] = id
            self.lines.rows["id"].put(id)
        self.lines.say_nothing()
        bit = None
        try:
            bit = bit_form.bit_of(self._filled)
        except InputError as error:
            self.lines.say(error.problems, missing_too=self._asked)
        self.drawing.show_bit(bit)
        return bit

    def _keep(self) -> None:
        self._asked = True
        self.message.hide()
        bit = self._judge()
        if not self.lines.go_to_problem() and bit is not None:
            self.wanted.emit(bit, self.keep_in.currentData())

    def _read_drawing(self) -> None:
        if name := self.ask_drawing():
            self.message.setText(f"Reading {Path(name).name} …")
            self.message.show()
            self.background.run(_outline_in, Path(name))

    def _take_drawing(self, drawn: DrawnOutline) -> None:
        if OUTLINE not in self.lines.rows:
            return  # another shape was chosen meanwhile
        self._filled[OUTLINE] = path_table(drawn.outline, "mm")
        self._filled["cutting_length"] = box_of(drawn.outline).top
        for key in (OUTLINE, "cutting_length"):
            self.lines.rows[key].put(self._filled[key])
        self._judge()
        self.message.setText("\n".join(drawn.notes))
        self.message.setVisible(bool(drawn.notes))

    def _ask_drawing(self) -> str:
        name, _ = QFileDialog.getOpenFileName(self, "Read the outline of a bit", "", DRAWINGS)
        return name


def _outline_in(file: Path, progress: Progress) -> DrawnOutline:
    del progress  # the reader has its own limit of time
    return read_outline(file)
