"""A list whose rows are small pages of words: the plan's cuts, the shop's figures."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QFont, QPainter, QTextDocument
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from profilestack.desktop.paragraph import STALE
from profilestack.desktop.theme import Theme, theme_now
from profilestack.session.page_row import PageRow

Index = QModelIndex | QPersistentModelIndex
ROW = Qt.ItemDataRole.UserRole
MARGIN = 8

SHARES = {3: (36, 38, 26), 6: (20, 20, 15, 14, 14, 17), 7: (15, 15, 11, 15, 16, 17, 11)}
"""Of the width, for each of so many columns [%]."""


class PageModel(QAbstractListModel):
    """The rows as an item model."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.rows: tuple[PageRow, ...] = ()

    def show_rows(self, rows: Sequence[PageRow]) -> None:
        """Show these rows."""
        if tuple(rows) != self.rows:
            self.beginResetModel()
            self.rows = tuple(rows)
            self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - as Qt has it
        """How many rows there are."""
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The row itself, or its words."""
        if not index.isValid():
            return None
        row = self.rows[index.row()]
        if role == ROW:
            return row
        words = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole)
        return row.spoken if role in words else None


class PageList(QListView):
    """The list; its rows are as high as their words at this width."""

    def __init__(self, name: str, about: str) -> None:
        super().__init__()
        self.rows = PageModel(self)
        self.setModel(self.rows)
        self.setItemDelegate(_RowPainter(self))
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        # a bar that comes and goes would break the lines anew
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(name)
        self.setToolTip(about)

    def row(self, index: QModelIndex) -> PageRow | None:
        """The row at an index."""
        number = index.row()
        return self.rows.rows[number] if 0 <= number < len(self.rows.rows) else None

    def minimumSizeHint(self) -> QSize:
        """Some lines high."""
        return QSize(160, 6 * self.fontMetrics().lineSpacing())


class _RowPainter(QStyledItemDelegate):
    """Draws a row as a small page."""

    def __init__(self, view: PageList) -> None:
        super().__init__(view)
        self._view = view

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Ground, words, a rule below."""
        theme, row = theme_now(), index.data(ROW)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        ground = theme.chosen if chosen else theme.panel if row.kind == "setup" else theme.paper
        page = _page(row, option.font, option.rect.width(), theme, chosen)
        painter.save()
        painter.fillRect(option.rect, QColor(ground))
        if not option.state & QStyle.StateFlag.State_Enabled:
            painter.setOpacity(STALE)
        painter.setPen(QColor(theme.rule))
        painter.drawLine(option.rect.bottomLeft(), option.rect.bottomRight())
        painter.translate(option.rect.topLeft())
        page.drawContents(painter)
        painter.restore()
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QColor(theme.ink))
            painter.drawRect(option.rect.adjusted(0, 0, -1, -2))

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """As high as the words are in the list's width."""
        wide = self._view.viewport().width()
        page = _page(index.data(ROW), self._view.font(), wide, theme_now(), False)
        return QSize(wide, round(page.size().height()))


def _page(row: PageRow, font: QFont, wide: int, theme: Theme, chosen: bool) -> QTextDocument:
    page = QTextDocument()
    page.setDefaultFont(font)
    page.setDocumentMargin(MARGIN)
    page.setHtml(_html(row, theme, chosen))
    page.setTextWidth(wide)
    return page


def _html(row: PageRow, theme: Theme, chosen: bool) -> str:
    ink, quiet = (theme.chosen_ink,) * 2 if chosen else (theme.ink, theme.quiet)
    head = escape(row.head)
    if row.kind == "caution":
        color = ink if chosen else theme.leftover if row.grave else theme.ink
        told = f"<b>{head}</b> {escape(row.words)}"
        return f'<div style="color:{color}">{told}</div>'
    parts = [f'<div style="color:{ink}"><b>{head}</b></div>']
    words = f'<div style="color:{quiet}">{escape(row.words)}</div>' if row.words else ""
    color = quiet if row.kind == "bit" else ink
    table = _table(row, ink, quiet) if row.columns else ""
    # of a bit the words come first: its columns are those of the rows below
    parts += [words, table] if row.kind == "bit" else [table, words]
    return "".join(parts)


def _table(row: PageRow, ink: str, quiet: str) -> str:
    shares = SHARES[len(row.columns)]

    def written(line: Sequence[str], style: str) -> str:
        cells = "".join(
            f'<td align="right" width="{wide}%" style="{style}">{escape(cell)}</td>'
            for cell, wide in zip(line, shares, strict=True)
        )
        return f"<tr>{cells}</tr>"

    lines = "".join(written(line, f"color:{quiet};font-size:small") for line in row.heads)
    lines += "".join(written(line, f"color:{ink}") for line in row.cells)
    return f'<table width="100%" cellspacing="0" cellpadding="1">{lines}</table>'
