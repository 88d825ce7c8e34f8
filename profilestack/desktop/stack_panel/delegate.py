"""Painting and editing the cells of the table of passes."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from PySide6.QtCore import (
    QAbstractItemModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    QTimer,
)
from PySide6.QtGui import QColor, QIcon, QKeyEvent, QMouseEvent, QPainter, QPixmap
from PySide6.QtWidgets import (
    QComboBox,
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from profilestack.bits.bit import Bit
from profilestack.bits.words import kind_of, size_text
from profilestack.desktop.fields import LengthField
from profilestack.desktop.number_field import refusal_words
from profilestack.desktop.silhouette import draw_silhouette
from profilestack.desktop.stack_panel.cells import SECOND_ROLE, Column, Role, cell
from profilestack.desktop.stack_panel.model import PassModel
from profilestack.desktop.stack_panel.painting import CellPainter, cell_size, check_rect
from profilestack.desktop.theme import theme_now
from profilestack.drawing.wording import setup_text
from profilestack.errors import InputError
from profilestack.session.bits_at_hand import BitsAtHand
from profilestack.stack import FACE, Stack

Index = QModelIndex | QPersistentModelIndex
_LEAVING = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab, Qt.Key.Key_Backtab)


class PassDelegate(QStyledItemDelegate):
    """Cells of a :class:`PassModel`: lengths in fields, bits and setups from choosers."""

    def __init__(self, model: PassModel, parent: QWidget) -> None:
        super().__init__(parent)
        self._model = model
        self._document = model.document
        self.second_role = SECOND_ROLE
        """Which second line the cells have: with the setup where no column says it."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint a cell."""
        place, column, document = index.row(), Column(index.column()), self._document
        row, stack, units = self._model.row(place), document.stack, document.units

        # asked directly: the way over Qt and back costs more than the answer
        def say(role: int) -> object:
            return cell(row, column, role, stack, units)

        pointed = place == document.pointed
        CellPainter(painter, option, row, column, say, pointed, self.second_role).paint()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """The room that a cell asks for."""
        return cell_size(option, index)

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """A field or a chooser for the cell."""
        column, number = Column(index.column()), index.row() + 1
        if column == Column.BIT:
            return self._bit_chooser(parent, number)
        if column == Column.SETUP:
            return self._setup_chooser(parent, number)
        if column == Column.NOTE:
            note = QLineEdit(parent)
            note.setAccessibleName(f"Note of pass {number}")
            return note
        return self._length_field(parent, column, index.row())

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Show the cell's value in its editor."""
        value = index.data(Role.EditRole)
        if isinstance(editor, LengthField):
            editor.value = value
            if not editor.isModified():
                editor.selectAll()
        elif isinstance(editor, QComboBox):
            wanted = value.id if isinstance(value, Bit) else value
            editor.setCurrentIndex(editor.findData(wanted))
        elif isinstance(editor, QLineEdit):
            editor.setText(value)

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Put what was chosen or written into the stack; a field of a length does so itself."""
        if isinstance(editor, QComboBox):
            chosen = editor.currentData()
            if index.column() == Column.BIT:
                chosen = self._bits().get(chosen)
            if chosen is not None:
                model.setData(index, chosen, Role.EditRole)
        elif isinstance(editor, QLineEdit) and not isinstance(editor, LengthField):
            model.setData(index, editor.text(), Role.EditRole)

    def updateEditorGeometry(
        self, editor: QWidget, option: QStyleOptionViewItem, index: Index
    ) -> None:
        """A chooser takes the room that its words need, inside the table."""
        rect = option.rect
        if isinstance(editor, QComboBox):
            rect.setWidth(max(rect.width(), min(editor.sizeHint().width(), 320)))
            if (table := editor.parentWidget()) is not None:
                rect.moveRight(min(rect.right(), max(rect.width(), table.width()) - 1))
        editor.setGeometry(rect)

    def editorEvent(
        self, event: QEvent, model: QAbstractItemModel, option: QStyleOptionViewItem, index: Index
    ) -> bool:
        """A click on the check switches the pass."""
        if index.column() == Column.NUMBER and isinstance(event, QMouseEvent):
            is_left = event.button() == Qt.MouseButton.LeftButton
            if is_left and check_rect(option.rect, option.font).contains(
                event.position().toPoint()
            ):
                if event.type() == QEvent.Type.MouseButtonRelease:
                    on = index.data(Role.CheckStateRole) == Qt.CheckState.Checked
                    state = Qt.CheckState.Unchecked if on else Qt.CheckState.Checked
                    model.setData(index, state, Role.CheckStateRole)
                return True
        return False

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A field whose text is not taken stays open, with the reason."""
        if isinstance(watched, LengthField):
            if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
                if event.key() in _LEAVING:
                    watched.commit()
                    if watched.trouble:
                        return True
                elif event.key() == Qt.Key.Key_Escape:
                    # else the text would be taken as the field loses the focus
                    watched.restore()
            if event.type() == QEvent.Type.FocusOut:
                watched.commit()
                if watched.trouble:
                    return False
        return super().eventFilter(watched, event)

    def _length_field(self, parent: QWidget, column: Column, place: int) -> LengthField:
        word = "Edge to bit centre" if column == Column.OFFSET else "Below face"
        field = LengthField(self._document, f"{word}, pass {place + 1}", parent)
        field.setFrame(False)
        field.committed.connect(partial(self._put, field, column, place))
        field.trouble_changed.connect(self._say_trouble)
        return field

    def _say_trouble(self, reason: str) -> None:
        # a cell has no room for the reason
        if reason:
            self._document.said.emit(f"Not taken: {reason}")

    def _put(self, field: LengthField, column: Column, place: int, value: float) -> None:
        merging = f"{column.name} {place}" if field.stepping else ""
        try:
            self._model.put(place, column, value, merging)
        except InputError as error:
            field.refuse(refusal_words(error))

    def _bit_chooser(self, parent: QWidget, number: int) -> QComboBox:
        chooser = self._chooser(parent, f"Bit of pass {number}")
        units = self._document.units
        for bit in sorted(self._bits().values(), key=lambda one: (kind_of(one), one.shape.size)):
            icon = _silhouette_icon(bit, chooser)
            chooser.addItem(icon, f"{kind_of(bit)}, {size_text(bit, units)}", bit.id)
            chooser.setItemData(chooser.count() - 1, bit.id, Role.ToolTipRole)
        return chooser

    def _setup_chooser(self, parent: QWidget, number: int) -> QComboBox:
        chooser = self._chooser(parent, f"Setup of pass {number}")
        stack = self._document.stack
        for setup in (FACE, *stack.setups):
            chooser.addItem(setup_text(stack, setup.name), setup.name)
        return chooser

    def _chooser(self, parent: QWidget, name: str) -> QComboBox:
        chooser = QComboBox(parent)
        chooser.setAccessibleName(name)
        chooser.activated.connect(partial(self._chosen, chooser))
        # open at once, when it has its place and its words
        QTimer.singleShot(0, chooser, chooser.showPopup)
        return chooser

    def _chosen(self, chooser: QComboBox, place: int) -> None:
        del place
        self.commitData.emit(chooser)
        self.closeEditor.emit(chooser)

    def _bits(self) -> dict[str, Bit]:
        session = self._document.session
        return bits_to_choose(session.stack, session.bits, session.bits_at_hand)


def bits_to_choose(stack: Stack, used: dict[str, Bit], at_hand: BitsAtHand) -> dict[str, Bit]:
    """Bits by id: those of the document and its passes, of opened libraries, of the drawer."""
    sources: Iterable[dict[str, Bit]] = (
        at_hand.drawer, at_hand.opened, used, {bit.id: bit for bit in stack.bits}
    )  # fmt: skip
    found: dict[str, Bit] = {}
    for source in sources:
        found |= source
    return found


def _silhouette_icon(bit: Bit, widget: QWidget) -> QIcon:
    size, ratio = widget.fontMetrics().height() + 4, widget.devicePixelRatioF()
    pixmap = QPixmap(round(size * ratio), round(size * ratio))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter, theme = QPainter(pixmap), theme_now()
    room = QRectF(1.0, 1.0, size - 2.0, size - 2.0)
    draw_silhouette(painter, bit, room, QColor(theme.ink), QColor(theme.quiet))
    painter.end()
    return QIcon(pixmap)
