"""The form of a new or changed bit, with its drawing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import SHAPES
from profilestack.desktop.background import Background
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.bit_drawing import BitDrawing
from profilestack.desktop.drawer.form_row import FormRow
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
        self.rows: dict[str, FormRow] = {}
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
        self.background = Background(self)
        self.background.done.connect(self._take_drawing)
        self.background.failed.connect(self.refuse)
        self._area = QScrollArea()
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
        problems = error.problems if isinstance(error, InputError) else ()
        loose = [] if problems else [str(error)]
        for problem in problems:
            row = self._row_at(problem.where)
            if row is None:
                loose.append(str(problem))
            else:
                row.say(_said(problem.text, problem.expected))
        self.message.setText("\n".join(loose))
        self.message.setVisible(bool(loose))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves the form."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
            return
        super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Another theme: what is wrong is said in its colour."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            for row in self.rows.values():
                row.say(row.said)

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
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QScrollArea.Shape.NoFrame)
        self._area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # the fields take the focus, their frame does not
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        foot = QHBoxLayout()
        foot.addWidget(self.keep_in, 1)
        foot.addWidget(self.keep)
        foot.addWidget(self.leave)
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 8, 8, 8)
        box.setSpacing(8)
        for widget in (self.title, self.shape, self.drawing, self._area, self.message):
            box.addWidget(widget)
        box.setStretchFactor(self._area, 1)
        box.addLayout(foot)

    def _offer_places(self, source: str) -> None:
        self.keep_in.clear()
        files = self.document.session.bits_at_hand.libraries
        for place in (DRAWER, OWN, *(name for name in files if not name.startswith("@"))):
            self.keep_in.addItem(source_said(place), place)
        self.keep_in.addItem("A library file …", FILE)
        self.keep_in.setCurrentIndex(max(0, self.keep_in.findData(source)))

    def _show_shape(self) -> None:
        """Lay out the lines of the shape anew."""
        word = self._filled["shape"]
        self.shape.setCurrentIndex(self.shape.findData(word))
        page = QWidget()
        grid = QGridLayout(page)
        grid.setContentsMargins(0, 0, 8, 0)
        grid.setColumnStretch(1, 1)
        self.rows = {}
        for line, key in enumerate(bit_form.form_keys(word)):
            row = FormRow(self.document, key, page)
            row.put(self._filled.get(key.word))
            row.changed.connect(self._take)
            row.pressed.connect(self._read_drawing)
            grid.addWidget(row.label, 2 * line, 0)
            grid.addWidget(row.field, 2 * line, 1)
            grid.addWidget(row.problem, 2 * line + 1, 0, 1, 2)
            self.rows[key.word] = row
        grid.setRowStretch(2 * len(self.rows), 1)
        self._area.setWidget(page)
        self._judge()

    def _change_shape(self) -> None:
        self._filled = bit_form.with_shape(self._filled, self.shape.currentData())
        self._show_shape()

    def _take(self, word: str) -> None:
        value = self.rows[word].value
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
            self.rows["id"].put(id)
        for row in self.rows.values():
            row.say(getattr(row.field, "trouble", ""))
        bit = None
        try:
            bit = bit_form.bit_of(self._filled)
        except InputError as error:
            for problem in error.problems:
                at = self._row_at(problem.where)
                # what is not filled in yet is no mistake before somebody wants to keep it
                if at is not None and (self._asked or at.touched or at.value is not None):
                    at.say(_said(problem.text, problem.expected))
        self.drawing.show_bit(bit)
        return bit

    def _row_at(self, where: str) -> FormRow | None:
        return self.rows.get(where.partition(".")[0].partition("[")[0])

    def _keep(self) -> None:
        self._asked = True
        self.message.hide()
        bit = self._judge()
        wrong = [row for row in self.rows.values() if not row.problem.isHidden()]
        if wrong:
            wrong[0].field.setFocus(Qt.FocusReason.OtherFocusReason)
            self._area.ensureWidgetVisible(wrong[0].field)
        elif bit is not None:
            self.wanted.emit(bit, self.keep_in.currentData())

    def _read_drawing(self) -> None:
        if name := self.ask_drawing():
            self.message.setText(f"Reading {Path(name).name} …")
            self.message.show()
            self.background.run(_outline_in, Path(name))

    def _take_drawing(self, drawn: DrawnOutline) -> None:
        if OUTLINE not in self.rows:
            return  # another shape was chosen meanwhile
        self._filled[OUTLINE] = path_table(drawn.outline, "mm")
        self._filled["cutting_length"] = box_of(drawn.outline).top
        for key in (OUTLINE, "cutting_length"):
            self.rows[key].put(self._filled[key])
        self._judge()
        self.message.setText("\n".join(drawn.notes))
        self.message.setVisible(bool(drawn.notes))

    def _ask_drawing(self) -> str:
        name, _ = QFileDialog.getOpenFileName(self, "Read the outline of a bit", "", DRAWINGS)
        return name


def _outline_in(file: Path, progress: Progress) -> DrawnOutline:
    del progress  # the reader has its own limit of time
    return read_outline(file)


def _said(text: str, expected: str) -> str:
    return f"{text}; expected {expected}" if expected else text
