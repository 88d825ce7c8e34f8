"""What is dangerous: the cautions in words, the gravest first, over the usual line."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QColor, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from profilestack.cutting.caution import Caution
from profilestack.desktop.document import Document
from profilestack.desktop.stack_panel.painting import Index, second_font
from profilestack.desktop.stack_panel.signs import draw_sign
from profilestack.desktop.theme import LIGHT, theme_now
from profilestack.drawing.safety import USUAL_CAUTIONS
from profilestack.session.pass_rows import caution_text, cautions_in_order

SEVERITY_ROLE = Qt.ItemDataRole.UserRole + 1
NUMBER_ROLE = Qt.ItemDataRole.UserRole + 2
PAD = 4


class CautionList(QWidget):
    """A document's cautions; one that is clicked, or entered by keys, chooses its pass."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.list = _WrappedList()
        self.list.setAccessibleName("Cautions, the gravest first")
        self.list.setToolTip("Click a caution, or press Enter on it, to choose its pass.")
        self.none = QLabel("No cautions beyond the usual ones:")
        self.none.setWordWrap(True)
        self.usual = QLabel(" ".join(USUAL_CAUTIONS))
        self.usual.setWordWrap(True)
        self.usual.setAccessibleName("Usual cautions")
        self.usual.setAccessibleDescription(self.usual.text())
        self.usual.setFont(second_font(self.font()))
        self.usual.setForegroundRole(self.usual.palette().ColorRole.PlaceholderText)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(4)
        box.addWidget(self.none)
        box.addWidget(self.list, 1)
        box.addWidget(self.usual)
        self._shown: tuple[Caution, ...] = ()
        self._units = ""
        self.list.itemClicked.connect(self._choose)
        self.list.itemActivated.connect(self._choose)
        self.list.setMouseTracking(True)
        self.list.itemEntered.connect(self._point)
        self.list.left.connect(lambda: document.point_at(None))
        document.changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the cautions of the moment."""
        cautions, units = cautions_in_order(self.document.report), self.document.units
        if (cautions, units) == (self._shown, self._units):
            return
        self._shown, self._units = cautions, units
        while self.list.count() > len(cautions):
            self.list.takeItem(self.list.count() - 1)
        while self.list.count() < len(cautions):
            self.list.addItem("")
        for place, caution in enumerate(cautions):
            item = self.list.item(place)
            text = caution_text(caution, units)
            if item.text() != text:
                item.setText(text)
            item.setData(SEVERITY_ROLE, caution.severity)
            item.setData(NUMBER_ROLE, caution.number)
        self.list.setVisible(bool(cautions))
        self.none.setVisible(not cautions)

    def _choose(self, item: QListWidgetItem) -> None:
        number = item.data(NUMBER_ROLE)
        if number is not None:
            self.document.choose([number - 1])

    def _point(self, item: QListWidgetItem) -> None:
        number = item.data(NUMBER_ROLE)
        self.document.point_at(None if number is None else number - 1)


class _WrappedList(QListWidget):
    """A list whose lines wrap at its width."""

    left = Signal()
    """The pointer has left it."""

    def __init__(self) -> None:
        super().__init__()
        self.setItemDelegate(_CautionPainter(self))
        self.setWordWrap(True)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setTabKeyNavigation(False)

    def sizeHint(self) -> QSize:
        """Room for some lines."""
        return QSize(200, 5 * self.fontMetrics().lineSpacing())

    def minimumSizeHint(self) -> QSize:
        """Room for two lines."""
        return QSize(100, 3 * self.fontMetrics().lineSpacing())

    def dataChanged(self, first: Index, last: Index, roles: Sequence[int] = ()) -> None:
        """Other words of the same height are painted; only others have all laid out anew."""
        rect = self.visualRect(first)
        option = QStyleOptionViewItem()
        self.initViewItemOption(option)
        alone = first.row() == last.row() and not QAccessible.isActive()
        if alone and self.itemDelegate().sizeHint(option, first).height() == rect.height():
            self.viewport().update(rect)
        else:
            super().dataChanged(first, last, roles)

    def leaveEvent(self, event: QEvent) -> None:
        """Tell it."""
        self.left.emit()
        super().leaveEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width, other lines."""
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()

    def changeEvent(self, event: QEvent) -> None:
        """Other type or other colours."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.scheduleDelayedItemsLayout()


class _CautionPainter(QStyledItemDelegate):
    """A sign, and the words wrapped beside it."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint a caution."""
        theme = theme_now()
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.fillRect(option.rect, QColor(theme.chosen if chosen else theme.paper))
        size = option.fontMetrics.height()
        left, top = option.rect.left() + PAD, option.rect.top() + PAD
        sign = index.data(SEVERITY_ROLE)
        draw_sign(painter, sign, QRectF(left, top, size, size), LIGHT if chosen else theme)
        painter.setFont(option.font)
        painter.setPen(QColor(theme.chosen_ink if chosen else theme.ink))
        painter.drawText(_words_rect(option, option.rect), _WRAPPED, index.data())
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QPen(painter.pen().color(), 1, Qt.PenStyle.DotLine))
            painter.drawRect(option.rect.adjusted(0, 0, -1, -1))
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """As high as the words are when wrapped at the list's width."""
        view = self.parent()
        wide = view.viewport().width() if isinstance(view, QListWidget) else option.rect.width()
        room = _words_rect(option, QRect(0, 0, max(wide, 80), 10_000))
        words = option.fontMetrics.boundingRect(room, _WRAPPED, index.data())
        return QSize(wide, max(words.height(), option.fontMetrics.height()) + 2 * PAD)


_WRAPPED = int(Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap)


def _words_rect(option: QStyleOptionViewItem, rect: QRect) -> QRect:
    return rect.adjusted(option.fontMetrics.height() + 3 * PAD, PAD, -PAD, -PAD)
