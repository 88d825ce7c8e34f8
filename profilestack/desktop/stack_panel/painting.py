"""How a cell of the table of passes is painted: two lines, a silhouette, a bar, a sign."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyleOptionViewItem

from profilestack.desktop.silhouette import draw_silhouette
from profilestack.desktop.stack_panel.cells import SECOND_ROLE, Column, Role, alignment
from profilestack.desktop.stack_panel.signs import draw_sign, draw_tick
from profilestack.desktop.theme import LIGHT, Theme, theme_now
from profilestack.session.pass_rows import PassRow

Index = QModelIndex | QPersistentModelIndex
PAD = 4
STRIPE = 3
BAR = 4
_SELECTED = QStyle.StateFlag.State_Selected.value
_FOCUS = QStyle.StateFlag.State_HasFocus.value
LEAST_LETTERS = 5
"""Fewer letters of a word that is cut short are not worth showing."""


def second_font(font: QFont) -> QFont:
    """The type of second lines: a little smaller."""
    smaller = QFont(font)
    smaller.setPointSizeF(max(7.0, font.pointSizeF() * 0.9))
    return smaller


@dataclass(frozen=True)
class _Type:
    """The type of a cell's two lines, and how high the first one is [px]."""

    first: QFont
    second: QFont
    line: int
    keys: tuple[str, str]


@lru_cache(maxsize=16)
def _type_of(key: str) -> _Type:
    font = QFont()
    font.fromString(key)
    second = second_font(font)
    return _Type(font, second, QFontMetrics(font).height(), (font.key(), second.key()))


def row_height(font: QFont) -> int:
    """Room for two lines and a bar."""
    first, second = QFontMetrics(font).height(), QFontMetrics(second_font(font)).height()
    return first + second + BAR + 2 * PAD


@lru_cache(maxsize=2048)
def _elided(text: str, width: int, key: str) -> str:
    """The text as far as it fits; cutting it short takes longer than painting it."""
    font = QFont()
    font.fromString(key)
    metrics = QFontMetrics(font)
    elided = metrics.elidedText(text, Qt.TextElideMode.ElideRight, width)
    whole = text.rpartition(", ")[0]
    if elided == text or not whole or metrics.horizontalAdvance(whole) > width:
        return elided
    # a word of which next to nothing is seen is better left out
    return whole if len(elided) - len(whole) <= LEAST_LETTERS + len(", …") else elided


@lru_cache(maxsize=64)
def _flags(column: Column, upright: Qt.AlignmentFlag) -> int:
    """At which side of its cell a text stands, and how high."""
    return int(alignment(column) & Qt.AlignmentFlag.AlignHorizontal_Mask | upright)


@lru_cache(maxsize=64)
def _color(name: str) -> QColor:
    return QColor(name)


def silhouette_width(font: QFont) -> int:
    """Room for a silhouette across; most bits are higher than wide."""
    return round(0.56 * row_height(font))


def check_rect(cell: QRect, font: QFont) -> QRect:
    """Where a click switches a pass: the left of its number's cell, at least 24 pixels wide."""
    return QRect(cell.left(), cell.top(), min(cell.width(), _check_width(font)), cell.height())


def _check_width(font: QFont) -> int:
    return max(24, QFontMetrics(font).height() + 10)


class CellPainter:
    """Paints one cell; colours are those of the moment."""

    def __init__(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        row: PassRow,
        column: Column,
        say: Callable[[int], Any],
        pointed: bool,
        second_role: int = SECOND_ROLE,
    ) -> None:
        """``say`` gives the cell's answer for a role."""
        self.painter, self.option = painter, option
        self.type = _type_of(option.font.key())
        self.row, self.column, self.say = row, column, say
        self.theme: Theme = theme_now()
        self.rect = option.rect
        # plain numbers: sets of flags take several times as long
        state = option.state.value
        self.is_chosen = bool(state & _SELECTED)
        self.has_focus = bool(state & _FOCUS)
        self.is_pointed = pointed
        self.second_role = second_role

    def paint(self) -> None:
        """The cell, from the ground up."""
        painter = self.painter
        painter.save()
        painter.setClipRect(self.rect)
        self._paint_ground()
        column = self.column
        inner = self.rect.adjusted(PAD, PAD, -PAD, -PAD)
        if column == Column.NUMBER:
            self._paint_check()
            self._paint_lines(inner.adjusted(extra_width(self.option.font, Column.NUMBER), 0, 0, 0))
        elif column == Column.BIT:
            self._paint_bit(inner)
        elif column == Column.REMOVES:
            self._paint_lines(inner.adjusted(0, 0, 0, -BAR))
            self._paint_bar(inner)
        elif column == Column.CAUTION:
            self._paint_caution(inner)
        else:
            self._paint_lines(inner)
        if self.has_focus:
            painter.setPen(QPen(self._ink(), 1, Qt.PenStyle.DotLine))
            painter.drawRect(self.rect.adjusted(1, 1, -2, -2))
        painter.restore()

    def _paint_ground(self) -> None:
        theme, rect, painter = self.theme, self.rect, self.painter
        painter.fillRect(rect, _color(theme.chosen if self.is_chosen else theme.paper))
        painter.fillRect(rect.left(), rect.bottom(), rect.width(), 1, _color(theme.rule))
        if self.is_chosen and self.column == Column.NUMBER:
            painter.fillRect(rect.left(), rect.top(), STRIPE, rect.height(), self._ink())
        if self.is_pointed:
            color = _color(theme.chosen_ink if self.is_chosen else theme.target)
            for top in (rect.top(), rect.bottom() - 1):
                painter.fillRect(rect.left(), top, rect.width(), 2, color)

    def _paint_lines(self, room: QRect) -> None:
        """The first line in ink and the second one quiet, at the side that the column wants."""
        painter, kind = self.painter, self.type
        first, second = self.say(Role.DisplayRole), self.say(self.second_role)
        painter.setFont(kind.first)
        painter.setPen(self._ink() if self.row.single.on else self._quiet())
        elided = _elided(first, room.width(), kind.keys[0])
        if not second:
            painter.drawText(room, _flags(self.column, Qt.AlignmentFlag.AlignVCenter), elided)
            return
        at = _flags(self.column, Qt.AlignmentFlag.AlignTop)
        painter.drawText(room, at, elided)
        painter.setFont(kind.second)
        painter.setPen(self._quiet())
        elided = _elided(second, room.width(), kind.keys[1])
        painter.drawText(room.adjusted(0, kind.line, 0, 0), at, elided)

    def _paint_check(self) -> None:
        size = 0.9 * self.type.line
        box = QRectF(0.0, 0.0, size, size)
        box.moveCenter(QRectF(check_rect(self.rect, self.option.font)).center())
        painter = self.painter
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._quiet(), 1.2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(box, 2.0, 2.0)
        if self.row.single.on:
            draw_tick(painter, box.adjusted(2, 2, -2, -2), self._ink())

    def _paint_bit(self, inner: QRect) -> None:
        wide = silhouette_width(self.option.font)
        room = QRectF(inner.left(), inner.top(), wide, inner.height())
        if self.row.bit is not None:
            edge = self._ink() if self.row.single.on else self._quiet()
            draw_silhouette(self.painter, self.row.bit, room, edge, self._quiet())
        self._paint_lines(inner.adjusted(wide + PAD, 0, 0, 0))

    def _paint_bar(self, inner: QRect) -> None:
        if self.row.share <= 0.0:
            return
        theme = self.theme
        wide = max(2, round(self.row.share * inner.width()))
        bar = QRect(inner.left(), inner.bottom() - BAR + 1, wide, BAR)
        self.painter.fillRect(bar, _color(LIGHT.wood_edge if self.is_chosen else theme.wood_edge))

    def _paint_caution(self, inner: QRect) -> None:
        if not self.row.severity:
            return
        size = self.type.line
        theme = LIGHT if self.is_chosen else self.theme
        room = QRectF(inner.left(), inner.top(), inner.width(), size)
        draw_sign(self.painter, self.row.severity, room, theme)
        font = self.type.second
        word = self.say(Role.DisplayRole)
        if QFontMetrics(font).horizontalAdvance(word) > inner.width():
            return  # in a narrow column the sign stands alone; its tooltip has the words
        self.painter.setFont(font)
        self.painter.setPen(self._ink())
        below = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop
        self.painter.drawText(inner.adjusted(0, size, 0, 0), int(below), word)

    def _ink(self) -> QColor:
        return _color(self.theme.chosen_ink if self.is_chosen else self.theme.ink)

    def _quiet(self) -> QColor:
        return _color(LIGHT.quiet if self.is_chosen else self.theme.quiet)


def cell_size(
    option: QStyleOptionViewItem, index: Index, second_role: int | None = SECOND_ROLE
) -> QSize:
    """The room that a cell asks for, without a second line where no role is given for it."""
    font, column = option.font, Column(index.column())
    smaller = QFontMetrics(second_font(font))
    metrics = smaller if column == Column.CAUTION else QFontMetrics(font)
    first = metrics.horizontalAdvance(index.data(Role.DisplayRole))
    second = (index.data(second_role) or "") if second_role is not None else ""
    wide = max(first, smaller.horizontalAdvance(second))
    return QSize(wide + extra_width(font, column) + 2 * PAD + 2, row_height(font))


def extra_width(font: QFont, column: Column) -> int:
    """Room for what is drawn beside the words of a column."""
    if column == Column.BIT:
        return silhouette_width(font) + PAD
    return _check_width(font) - PAD - 2 if column == Column.NUMBER else 0
