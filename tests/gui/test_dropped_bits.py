"""Bits dropped on the table of passes: they become passes there, over the profile's middle."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QMimeData, QPoint, Qt
from PySide6.QtGui import QColor, QDragEnterEvent, QDragLeaveEvent, QDragMoveEvent, QDropEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.bits.bit import Bit
from profilestack.desktop.carrying import BIT
from profilestack.desktop.document import Document
from profilestack.desktop.placing import place_in_the_middle
from profilestack.desktop.stack_panel.panel import StackPanel
from profilestack.desktop.theme import theme_now
from profilestack.session.bits_at_hand import BitsAtHand
from profilestack.session.moving import in_the_middle
from profilestack.session.session import Session
from profilestack.stack import Pass
from profilestack.stack.edits import with_passes_added, without_passes
from tests.gui.benches import NO_KEYS, NOSE, STRAIGHT, TOP, board

COPY, LEFT = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
FOUR = (
    Pass("flat", 20.3, 9.7), Pass("nose", 55.3, 11.7), Pass("flat", 30.0, 5.0),
    Pass("nose", 62.0, 4.0),
)  # fmt: skip

pytestmark = pytest.mark.filterwarnings("ignore:Function. .QDrag:DeprecationWarning")  # newer Qt


@pytest.fixture
def panel(qtbot: QtBot) -> StackPanel:
    made = StackPanel(Document(Session(board(*FOUR))))
    made.document.setParent(made)
    qtbot.addWidget(made)
    made.resize(900, 760)
    made.show()
    QApplication.processEvents()
    return made


def place(panel: StackPanel, row: int, low: bool) -> QPoint:
    """A place on the lower or the upper half of a row."""
    cell = panel.table.visualRect(panel.table.passes.index(row, 1))
    return QPoint(cell.center().x(), cell.bottom() - 2 if low else cell.top() + 2)


def hold_over(panel: StackPanel, bit_id: str, at: QPoint) -> QMimeData:
    """Bring a bit over the table; what is carried must live as long as the drag."""
    data = QMimeData()
    data.setData(BIT, bit_id.encode())
    view = panel.table.viewport()
    moved = QDragMoveEvent(at, COPY, data, LEFT, NO_KEYS)
    QApplication.sendEvent(view, QDragEnterEvent(at, COPY, data, LEFT, NO_KEYS))
    QApplication.sendEvent(view, moved)
    assert moved.isAccepted()
    return data


def drop(panel: StackPanel, bit_id: str, at: QPoint) -> None:
    data = hold_over(panel, bit_id, at)
    dropped = QDropEvent(at.toPointF(), COPY, data, LEFT, NO_KEYS)
    QApplication.sendEvent(panel.table.viewport(), dropped)


def is_in_the_middle(document: Document, index: int, bit: Bit) -> bool:
    """Whether that pass is over the middle of the profile, as deep as it may go."""
    others = without_passes(document.stack, (index,))
    x, z = in_the_middle(others, bit)
    return document.stack.passes[index] == Pass(bit.id, round(x, 4), round(TOP - z, 4))


@pytest.mark.parametrize(
    ("row", "low", "place_of_new"), [(1, True, 2), (2, False, 2), (0, False, 0)]
)
def test_a_bit_dropped_between_rows_is_cut_there(
    panel: StackPanel, row: int, low: bool, place_of_new: int
) -> None:
    document, before = panel.document, panel.document.stack
    drop(panel, "nose", place(panel, row, low))
    passes = list(document.stack.passes)
    assert is_in_the_middle(document, place_of_new, NOSE)
    assert (passes[place_of_new].offset, passes[place_of_new].depth) == (40.0, 15.0)
    del passes[place_of_new]
    assert tuple(passes) == FOUR
    assert document.chosen == (place_of_new,)
    rows = panel.table.selectionModel().selectedRows()
    assert [index.row() for index in rows] == [place_of_new]
    assert document.session.undo_label == "Place nose"
    document.undo()
    assert document.stack is before
    assert document.session.undo_label is None, "one step"
    document.redo()
    assert is_in_the_middle(document, place_of_new, NOSE)


@pytest.mark.parametrize("below", [False, True])
def test_a_bit_dropped_at_the_end_is_cut_last(panel: StackPanel, below: bool) -> None:
    at = place(panel, 3, True) + QPoint(0, 40 if below else 0)
    assert panel.table.indexAt(at).isValid() is not below
    drop(panel, "flat", at)
    assert panel.document.stack.passes[:4] == FOUR
    assert is_in_the_middle(panel.document, 4, STRAIGHT)
    assert panel.document.chosen == (4,)
    panel.document.undo()
    assert panel.document.stack.passes == FOUR


def test_a_bit_dropped_on_an_empty_table_is_the_first_pass(panel: StackPanel) -> None:
    document = panel.document
    document.edit(without_passes(document.stack, range(4)), "Delete 4 passes")
    drop(panel, "nose", QPoint(90, 120))
    assert len(document.stack.passes) == 1
    assert is_in_the_middle(document, 0, NOSE)
    assert document.chosen == (0,)
    document.undo()
    assert document.stack.passes == ()


def test_a_drop_says_what_enter_says(panel: StackPanel) -> None:
    document = panel.document
    shipped = next(iter(document.session.bits_at_hand.drawer))
    assert place_in_the_middle(document, shipped)
    by_key, label = document.stack, document.session.undo_label
    document.undo()
    drop(panel, shipped, place(panel, 3, True))
    assert document.session.undo_label == label
    assert document.stack == by_key


def test_only_a_bit_that_others_do_not_have_is_carried(
    panel: StackPanel, monkeypatch: pytest.MonkeyPatch
) -> None:
    document, own = panel.document, Bit("mine", NOSE.shape, 30.0, 6.0, 90.0)
    at_hand: BitsAtHand = document.session.bits_at_hand
    monkeypatch.setattr(at_hand, "find", {"mine": own, **at_hand.drawer}.get)
    shipped = next(iter(at_hand.drawer))
    drop(panel, shipped, place(panel, 0, True))
    assert document.stack.bits == (STRAIGHT, NOSE)
    drop(panel, "mine", place(panel, 0, True))
    assert document.stack.bits == (STRAIGHT, NOSE, own)
    assert [single.bit for single in document.stack.passes[:3]] == ["flat", "mine", shipped]


def test_a_bit_that_nobody_knows_changes_nothing(panel: StackPanel, qtbot: QtBot) -> None:
    before = panel.document.stack
    with qtbot.waitSignal(panel.document.said) as said:
        drop(panel, "no such bit", place(panel, 0, True))
    assert said.args == ["No bit is called 'no such bit'."]
    assert panel.document.stack is before


def test_a_line_shows_where_the_bit_would_go(panel: StackPanel) -> None:
    line = panel.table.drop_line
    view, head = panel.table.viewport(), panel.table.verticalHeader()

    def is_drawn(y: int) -> bool:
        seen = view.grab().toImage().pixelColor(view.width() // 2, y)
        return seen == QColor(theme_now().target)

    between = head.sectionViewportPosition(2)
    assert not is_drawn(between)
    carried = hold_over(panel, "nose", place(panel, 1, True))
    assert line.row == 2
    assert is_drawn(between)
    below = place(panel, 3, True) + QPoint(0, 40)
    QApplication.sendEvent(view, QDragMoveEvent(below, COPY, carried, LEFT, NO_KEYS))
    assert line.row == 4
    assert is_drawn(head.sectionViewportPosition(3) + head.sectionSize(3))
    QApplication.sendEvent(view, QDragLeaveEvent())
    assert line.row is None
    assert not is_drawn(between)
    drop(panel, "nose", place(panel, 1, True))
    assert line.row is None


def test_an_empty_table_has_the_line_too(panel: StackPanel) -> None:
    panel.document.edit(without_passes(panel.document.stack, range(4)), "Delete 4 passes")
    view = panel.table.viewport()
    empty = view.grab().toImage()
    carried = hold_over(panel, "nose", QPoint(90, 120))
    assert carried.hasFormat(BIT)
    assert panel.table.drop_line.row == 0
    held = view.grab().toImage()
    ink = QColor(theme_now().target)
    middle = view.width() // 2
    assert any(held.pixelColor(middle, y) == ink for y in range(12))
    assert not any(empty.pixelColor(middle, y) == ink for y in range(12))


def test_passes_of_another_window_still_fall_where_they_are_dropped(
    panel: StackPanel, qtbot: QtBot
) -> None:
    other = StackPanel(Document(Session(board(Pass("flat", 71.0, 3.0)))))
    other.document.setParent(other)
    qtbot.addWidget(other)
    data = other.table.passes.mimeData([other.table.passes.index(0, 0)])
    at = place(panel, 1, True)
    view = panel.table.viewport()
    for event in (
        QDragEnterEvent(at, COPY, data, LEFT, NO_KEYS),
        QDragMoveEvent(at, COPY, data, LEFT, NO_KEYS),
    ):
        QApplication.sendEvent(view, event)
    assert panel.table.drop_line.row == 2
    QApplication.sendEvent(view, QDropEvent(at.toPointF(), COPY, data, LEFT, NO_KEYS))
    expected = with_passes_added(board(*FOUR), [Pass("flat", 71.0, 3.0)], 2)
    assert panel.document.stack.passes == expected.passes
    assert panel.document.session.undo_label == "Paste a pass"


def test_what_was_chosen_and_looked_at_follows_its_pass(panel: StackPanel) -> None:
    document = panel.document
    document.choose((2,))
    document.look_at_moment(3)
    drop(panel, "nose", place(panel, 1, True))
    assert document.chosen == (2,), "the new one is chosen"
    assert document.moment == 4, "the pass that was cut last is cut still"
    document.choose((3,))
    document.undo()
    assert (document.chosen, document.moment) == ((2,), 3)
    document.redo()
    document.choose((2,))
    document.undo()
    assert document.chosen == (), "keys must not delete another pass than the one that was chosen"
