"""The columns of the table of passes: measured by their words, shown as far as there is room."""

from __future__ import annotations

from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QStyleOptionViewItem, QTableView

from profilestack.desktop.stack_panel.cells import LIE_ROLE, SECOND_ROLE, Column, head
from profilestack.desktop.stack_panel.delegate import PassDelegate
from profilestack.desktop.stack_panel.fitting import fitted
from profilestack.desktop.stack_panel.model import PassModel
from profilestack.desktop.stack_panel.painting import PAD, cell_size, extra_width, second_font

MEASURED_ROWS = 32
HEAD_PAD = 6
"""Around the words of a head [pixels]."""

USUAL = {
    Column.NUMBER: "88", Column.OFFSET: "888.88", Column.DEPTH: "88.88", Column.REMOVES: "888.8",
}  # fmt: skip
"""Numbers that find room unmeasured: they change while a hand moves."""

USUAL_SMALL = {Column.CAUTION: "STOP", Column.REMOVES: "88.8 cm³"}
"""The same for what is written in smaller type."""

USUAL_SIZE = "90°, 31.75 mm"
"""A bit's size that finds room unmeasured, so that the first pass does not change the table."""

USUAL_NOTE = 16
"""Letters of a note."""


class Columns:
    """Gives the columns of a table their widths."""

    def __init__(self, table: QTableView, passes: PassModel, cells: PassDelegate) -> None:
        self._table, self._passes, self._cells = table, passes, cells
        self._wanted: dict[Column, int] = {}
        self._least_bit = 0
        self._measured_of: object = None

    @property
    def usual_width(self) -> int:
        """Room for all but setups and notes, with the bits' sizes whole."""
        give_way = (Column.NOTE, Column.SETUP, Column.BIT)
        fixed = sum(wide for column, wide in self._wanted.items() if column not in give_way)
        return fixed + self._least_bit

    @property
    def least_width(self) -> int:
        """The same with a caution's sign alone: below this the table is scrolled sideways."""
        return self.usual_width - max(0, self._wanted[Column.CAUTION] - self._sign)

    def measure(self) -> None:
        """Measure heads and words, and give each column its width."""
        self._measured_of = self._words_now()
        self._wanted = {column: self._measured(column) for column in Column}
        font, letter = self._table.font(), self._table.fontMetrics().averageCharWidth()
        size = self._table.fontMetrics().horizontalAdvance(USUAL_SIZE)
        least = size + extra_width(font, Column.BIT) + 2 * PAD + 2
        self._least_bit = max(least, *self._cell_widths(Column.BIT, None), 0)
        self._wanted[Column.BIT] = max(self._wanted[Column.BIT], self._least_bit)
        self._wanted[Column.NOTE] = max(self._wanted[Column.NOTE], USUAL_NOTE * letter)
        self.take_room()

    def measure_other_words(self) -> None:
        """Measure anew where other bits or setups may not find room; numbers do."""
        if self._words_now() != self._measured_of:
            self.measure()

    def take_room(self) -> None:
        """Spread the columns over the table."""
        table = self._table
        widths = fitted(table.viewport().width(), self._wanted, self._least_bit, self._sign)
        for column in Column:
            table.setColumnHidden(column, column not in widths)
            if column in widths:
                table.setColumnWidth(column, widths[column])
        self._cells.second_role = SECOND_ROLE if Column.SETUP in widths else LIE_ROLE

    @property
    def _sign(self) -> int:
        """The least width of a column with a sign alone; no header draws less than its own."""
        sign = self._table.fontMetrics().height() + 2 * PAD
        return max(sign, self._table.horizontalHeader().minimumSectionSize())

    def _measured(self, column: Column) -> int:
        heads = QFontMetrics(second_font(self._table.font()))
        lines = head(column, self._passes.document.units).split("\n")
        beside = extra_width(self._table.font(), column) + 2 * PAD + 2
        usual = self._table.fontMetrics().horizontalAdvance(USUAL.get(column, "")) + beside
        smaller = heads.horizontalAdvance(USUAL_SMALL.get(column, "")) + 2 * PAD + 2
        wide = max(heads.horizontalAdvance(line) for line in lines) + HEAD_PAD
        return max(wide, usual, smaller, *self._cell_widths(column, SECOND_ROLE))

    def _cell_widths(self, column: Column, second_role: int | None) -> list[int]:
        option = QStyleOptionViewItem()
        option.initFrom(self._table)
        option.font = self._table.font()
        rows = range(min(MEASURED_ROWS, self._passes.rowCount()))
        cells = (self._passes.index(row, column) for row in rows)
        return [cell_size(option, cell, second_role).width() for cell in cells]

    def _words_now(self) -> tuple[tuple[str, str], ...]:
        passes = self._passes.document.stack.passes[:MEASURED_ROWS]
        return tuple((single.bit, single.setup) for single in passes)
