"""The table of passes: mirrors what is chosen and pointed at, edits in its cells, has its keys."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QItemSelection, QItemSelectionModel, QSize, Qt
from PySide6.QtGui import (
    QAccessible,
    QContextMenuEvent,
    QDragLeaveEvent,
    QDragMoveEvent,
    QDropEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QMenu,
    QTableView,
    QWidget,
)

from profilestack.desktop.document import Document
from profilestack.desktop.stack_panel.cells import Column
from profilestack.desktop.stack_panel.columns import Columns
from profilestack.desktop.stack_panel.commands import PassCommands
from profilestack.desktop.stack_panel.delegate import PassDelegate
from profilestack.desktop.stack_panel.drop_line import DropLine
from profilestack.desktop.stack_panel.keys import command_of, menu_of
from profilestack.desktop.stack_panel.model import Index, PassModel
from profilestack.desktop.stack_panel.painting import row_height, second_font
from profilestack.desktop.theme import theme_now

EMPTY = (
    "No passes yet. Drag a bit from the drawer onto the section or in here, or press Enter on it; "
    "or let the finder look for ways to cut the wanted profile."
)
_FLAG = QItemSelectionModel.SelectionFlag


class PassTable(QTableView):
    """A document's passes, first cut first."""

    def __init__(
        self, document: Document, commands: PassCommands, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.document, self.commands = document, commands
        self._is_mirroring = False
        self.passes = PassModel(document, commands, self)
        self.setModel(self.passes)
        cells = PassDelegate(self.passes, self)
        self.setItemDelegate(cells)
        self.columns = Columns(self, self.passes, cells)
        self.drop_line = DropLine(self)
        self._set_up()
        self.entered.connect(lambda index: document.point_at(index.row()))
        self.viewportEntered.connect(lambda: document.point_at(None))
        document.units_changed.connect(self.fit_columns)
        document.changed.connect(self.columns.measure_other_words)
        document.chosen_changed.connect(self._mirror_chosen)
        document.pointed_changed.connect(self._mirror_pointed)
        self.passes.rowsInserted.connect(self._mirror_chosen)
        for signal in (self.passes.rowsInserted, self.passes.rowsRemoved):
            signal.connect(self._describe)
        self._mirror_chosen()

    def fit_columns(self) -> None:
        """Measure the words, and give each column its width."""
        self.verticalHeader().setDefaultSectionSize(row_height(self.font()))
        self.horizontalHeader().setFont(second_font(self.font()))
        self.columns.measure()

    def sizeHint(self) -> QSize:
        """All but setups and notes, the bits' sizes whole, and some rows."""
        more = self.verticalScrollBar().sizeHint().width() + 2 * self.frameWidth()
        return QSize(self.columns.usual_width + more, 8 * row_height(self.font()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width, other columns."""
        super().resizeEvent(event)
        self.columns.take_room()

    def selectionChanged(self, selected: QItemSelection, deselected: QItemSelection) -> None:
        """What is chosen here is chosen everywhere."""
        super().selectionChanged(selected, deselected)
        if self._is_mirroring or self.passes.is_refreshing:
            return
        self._is_mirroring = True
        try:
            self.document.choose({index.row() for index in self.selectionModel().selectedRows()})
        finally:
            self._is_mirroring = False

    def dataChanged(self, first: Index, last: Index, roles: Sequence[int] = ()) -> None:
        """Paint the cells that changed, not the whole box around them: a hand may be moving."""
        cells = self.passes.changed_cells
        is_edited = self.state() == QAbstractItemView.State.EditingState
        if not cells or is_edited or QAccessible.isActive():
            super().dataChanged(first, last, roles)
            return
        for row, column in cells:
            self.viewport().update(self.visualRect(self.passes.index(row, column)))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The keys of the commands, then those of a table."""
        command = command_of(self.commands, event)
        if command is None:
            super().keyPressEvent(event)
            return
        command()
        event.accept()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """The commands, with their keys."""
        place = event.globalPos()
        if event.reason() == QContextMenuEvent.Reason.Keyboard:
            corner = self.visualRect(self.currentIndex()).bottomLeft()
            place = self.viewport().mapToGlobal(corner)
        self.menu().popup(place)

    def menu(self) -> QMenu:
        """A menu of what can be done with the chosen passes."""
        return menu_of(self.commands, self)

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is pointed at."""
        self.document.point_at(None)
        super().leaveEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Other type, other sizes; other colours, another painting."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self.fit_columns()
        elif event.type() == QEvent.Type.PaletteChange:
            self.viewport().update()

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        """Show where it would go."""
        super().dragMoveEvent(event)
        self.drop_line.follow(event)

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        """It is carried away again."""
        super().dragLeaveEvent(event)
        self.drop_line.leave()

    def dropEvent(self, event: QDropEvent) -> None:
        """It is put there."""
        super().dropEvent(event)
        self.drop_line.leave()

    def paintEvent(self, event: QPaintEvent) -> None:
        """An empty table says what to do; where something would be dropped, there is a line."""
        super().paintEvent(event)
        if self.passes.rowCount() and self.drop_line.row is None:
            return
        painter = QPainter(self.viewport())
        if not self.passes.rowCount():
            painter.setPen(theme_now().quiet)
            room = self.viewport().rect().adjusted(16, 16, -16, -16)
            flags = int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap)
            painter.drawText(room, flags, EMPTY)
        self.drop_line.paint(painter)
        painter.end()

    def _describe(self) -> None:
        """Said besides the name: what to do with an empty table."""
        self.setAccessibleDescription("" if self.passes.rowCount() else EMPTY)

    def _set_up(self) -> None:
        self.setAccessibleName("Passes in cutting order")
        self._describe()
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        trigger = QAbstractItemView.EditTrigger
        self.setEditTriggers(trigger.DoubleClicked | trigger.EditKeyPressed | trigger.AnyKeyPressed)
        self.setDragDropMode(QAbstractItemView.DragDropMode.DragDrop)
        self.setDefaultDropAction(Qt.DropAction.MoveAction)
        self.setDragDropOverwriteMode(False)
        self.setDropIndicatorShown(True)
        self.setMouseTracking(True)
        self.setShowGrid(False)
        self.setWordWrap(False)
        # Tab leaves the table: cells are walked by the arrows
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head = self.horizontalHeader()
        head.setHighlightSections(False)
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.fit_columns()

    def _mirror_chosen(self) -> None:
        if self._is_mirroring:
            return
        self._is_mirroring = True
        try:
            self._select(self.document.chosen)
        finally:
            self._is_mirroring = False

    def _select(self, rows: tuple[int, ...]) -> None:
        selection, model = QItemSelection(), self.passes
        there = [row for row in rows if row < model.rowCount()]
        for row in there:
            selection.select(model.index(row, 0), model.index(row, Column.NOTE))
        self.selectionModel().select(selection, _FLAG.ClearAndSelect | _FLAG.Rows)
        current = self.currentIndex()
        if there and current.row() not in there:
            column = max(0, current.column())
            index = model.index(there[0], column)
            self.selectionModel().setCurrentIndex(index, _FLAG.NoUpdate)
        if there:
            self.scrollTo(model.index(there[0], max(0, self.currentIndex().column())))

    def _mirror_pointed(self) -> None:
        self.viewport().update()
