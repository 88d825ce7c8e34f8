"""The members of a wanted profile as a list, from the top of the molding to its bottom."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QSizePolicy

from profilestack.targets.member import LENGTHS
from profilestack.targets.members import Member
from profilestack.units import format_length

DOES = {
    (Qt.Key.Key_Delete, Qt.KeyboardModifier.NoModifier): "remove",
    (Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier): "duplicate",
    (Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier): "up",
    (Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier): "down",
}
"""What keys ask for in the list."""


def member_said(member: Member, units: str) -> str:
    """A member in one line: "cavetto, flat: height 25 mm, projection 12 mm"."""
    sizes = [
        f"{key} {format_length(value, units)}"
        for key in LENGTHS
        if (value := getattr(member, key)) is not None
    ]
    variant = f", {member.variant}" if member.variant else ""
    return f"{member.member}{variant}: {', '.join(sizes)}"


class MemberList(QListWidget):
    """One line a member; lines are dragged, or moved, doubled and removed by keys."""

    asked = Signal(str)
    """What a key asks for: one of ``DOES``."""

    dragged = Signal(int, int)
    """A line was dragged from a place to another."""

    def __init__(self) -> None:
        super().__init__()
        self.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
        self.setAccessibleName("Members, from the top of the molding down")
        self.setToolTip(
            "From the top of the molding to its bottom. Drag lines, or: Alt+Up and Alt+Down move "
            "one, Ctrl+D doubles it, Delete removes it"
        )
        self.setWordWrap(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.model().rowsMoved.connect(self._rows_moved)

    def show_members(self, members: Sequence[Member], units: str) -> None:
        """Show these; the same line stays chosen."""
        lines = [f"{n}  {member_said(member, units)}" for n, member in enumerate(members, 1)]
        if lines == [self.item(row).text() for row in range(self.count())]:
            return
        row = max(0, self.currentRow())
        self.blockSignals(True)
        self.clear()
        self.addItems(lines)
        self.blockSignals(False)
        self.setCurrentRow(min(row, len(lines) - 1))

    def sizeHint(self) -> QSize:
        """Eight lines high."""
        line = self.fontMetrics().lineSpacing()
        return QSize(14 * line, 8 * line)

    def event(self, event: QEvent) -> bool:
        """In the list these keys belong to it, not to the window."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and _asked(event)
        ):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Tell what is asked."""
        if word := _asked(event):
            self.asked.emit(word)
        else:
            super().keyPressEvent(event)

    def _rows_moved(self, _parent: object, first: int, _last: int, _to: object, row: int) -> None:
        place = row if row < first else row - 1
        # the list is still moving its lines: the edit comes after it
        QTimer.singleShot(0, self, lambda: self.dragged.emit(first, place))


def _asked(event: QKeyEvent) -> str:
    keypad = Qt.KeyboardModifier.KeypadModifier
    return DOES.get((Qt.Key(event.key()), event.modifiers() & ~keypad), "")
