"""The section under the hand: dragging, snaps, nudges, typing, placing bits, zooming."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QDragEnterEvent, QDragMoveEvent, QDropEvent, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.bench import Bench
from profilestack.desktop.carrying import BIT
from profilestack.desktop.section.keys import KEYS
from profilestack.desktop.section.tips import tip_at
from profilestack.desktop.theme import theme_now
from profilestack.desktop.window import Window
from profilestack.finding.advice import Stretch
from profilestack.geometry.path import Path
from profilestack.session.pass_edits import nudge_step
from profilestack.stack import Pass, Setup
from tests.gui.benches import ALT, MIDDLE, NO_KEYS, SHIFT, TOP, WIDTH, HandOver, bench_on, board

HALF_STEP = 0.005 + 1e-9
"""Numbers that nothing holds are rounded to 0.01 mm."""


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    made = bench_on(board())
    qtbot.addWidget(made)
    return made


@pytest.fixture
def hand(bench: Bench) -> HandOver:
    return HandOver(bench.section, bench)


def numbers(bench: Bench, index: int = 0) -> tuple[float, float]:
    single = bench.document.stack.passes[index]
    return (single.offset, single.depth)


def test_a_drag_moves_offset_and_depth_by_what_the_axis_says(bench: Bench, hand: HandOver) -> None:
    before = numbers(bench)
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(37.0, -21.0), ALT)
    scale = bench.axis.scale
    expected = (before[0] + 37.0 / scale, before[1] - 21.0 / scale)
    assert numbers(bench) == pytest.approx(expected, abs=HALF_STEP)
    assert bench.document.session.undo_label == "Move pass 1"
    assert bench.document.chosen == (0,)


def test_a_drag_is_one_step_and_shows_itself_before_it_is_one(bench: Bench, hand: HandOver) -> None:
    stack = bench.document.stack
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(20.0, 0.0), ALT)
    hand.move(begin + QPointF(40.0, 9.0), ALT)
    assert bench.document.stack != stack
    assert bench.document.session.settled is stack
    assert bench.document.session.undo_label is None
    hand.release()
    bench.document.undo()
    assert bench.document.stack is stack
    assert bench.document.session.undo_label is None


def test_shift_keeps_to_the_longer_way(bench: Bench, hand: HandOver) -> None:
    offset, depth = numbers(bench)
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(40.0, 6.0), SHIFT | ALT)
    assert numbers(bench)[1] == depth
    assert numbers(bench)[0] == pytest.approx(offset + 40.0 / bench.axis.scale, abs=HALF_STEP)
    begin = hand.over(numbers(bench)[0], 35.0)
    moved = numbers(bench)[0]
    hand.drag(begin, begin + QPointF(4.0, 30.0), SHIFT | ALT)
    assert numbers(bench)[0] == moved
    assert numbers(bench)[1] == pytest.approx(depth + 30.0 / bench.axis.scale, abs=HALF_STEP)


def test_a_pass_comes_to_rest_on_the_wanted_profile_and_alt_lets_go(
    bench: Bench, hand: HandOver
) -> None:
    scale = bench.axis.scale
    begin = hand.over(20.3, 35.0)
    end = begin + QPointF(40.0, (15.0 - 9.7) * scale + 5.0)
    hand.press(begin)
    hand.move(end)
    held = bench.section.move_now
    assert held is not None
    assert held.snap.depth_to == "touches the wanted profile"
    assert numbers(bench)[1] == pytest.approx(TOP - 25.0, abs=2e-4)
    hand.move(end, ALT)
    assert numbers(bench)[1] == pytest.approx(15.0 + 5.0 / scale, abs=HALF_STEP)
    hand.move(end)
    hand.release()
    assert bench.document.report is not None
    assert bench.document.report.comparison is not None
    assert bench.document.report.comparison.overcut_worst < 0.002


def test_what_holds_a_pass_is_told(bench: Bench, hand: HandOver, qtbot: QtBot) -> None:
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    with qtbot.waitSignal(bench.held_changed, check_params_cb=lambda words: "pass 2" in words):
        hand.move(begin + QPointF((55.3 - 20.3) * bench.axis.scale, -20.0))
    with qtbot.waitSignal(bench.held_changed, check_params_cb=lambda words: words == ""):
        hand.release()


def test_escape_gives_a_drag_up(bench: Bench, hand: HandOver, qtbot: QtBot) -> None:
    stack = bench.document.stack
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(50.0, 5.0))
    qtbot.keyClick(bench.section, Qt.Key.Key_Escape)
    assert bench.document.stack is stack
    hand.release()
    assert bench.document.stack is stack
    assert bench.document.session.undo_label is None


def test_after_escape_the_hand_moves_on_without_the_pass(
    bench: Bench, hand: HandOver, qtbot: QtBot
) -> None:
    stack = bench.document.stack
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(50.0, 5.0))
    qtbot.keyClick(bench.section, Qt.Key.Key_Escape)
    hand.move(begin + QPointF(80.0, 9.0))
    hand.release()
    assert bench.document.stack is stack


def test_an_undo_in_the_middle_of_a_drag_ends_it(bench: Bench, hand: HandOver) -> None:
    first = bench.document.stack
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(24.0, 0.0), ALT)
    begin = hand.over(numbers(bench)[0], 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(30.0, 0.0), ALT)
    bench.document.undo()
    assert bench.section.move_now is None
    hand.move(begin + QPointF(60.0, 0.0), ALT)
    hand.release()
    assert bench.document.stack is first
    assert bench.document.session.undo_label is None
    assert bench.document.session.redo_label == "Move pass 1"


def test_the_action_undo_lets_go_of_a_drag_and_of_no_more(window: Window) -> None:
    window.document.edit(board(), "Take the board")
    window.show()
    window.bench.fit()
    kept = window.document.stack
    hand = HandOver(window.bench.section, window.bench)
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(30.0, 0.0), ALT)
    assert window.document.stack != kept
    window.actions_by_name["undo"].trigger()
    assert window.document.stack is kept
    hand.move(begin + QPointF(60.0, 0.0), ALT)
    hand.release()
    assert window.document.stack is kept
    window.actions_by_name["undo"].trigger()
    assert window.document.session.redo_label == "Take the board"


def test_what_cannot_be_cut_shows_the_blank_and_the_wanted_profile(qtbot: QtBot) -> None:
    bench = bench_on(board(target=Path((0.0, 25.0)).line((WIDTH + 10.0, 25.0))))
    qtbot.addWidget(bench)
    assert bench.document.report is None
    picture = bench.section.grab().toImage()
    ratio = picture.devicePixelRatio()

    def color_at(x: float, z: float) -> QColor:
        at = QPointF(bench.axis.pixel_of_x(x), bench.axis.pixel_of_z(z)) * ratio
        return picture.pixelColor(at.toPoint())

    theme = theme_now()
    for x in (20.0, WIDTH + 5.0):  # the line lies between two rows of pixels
        assert color_at(x, 25.0).blue() > color_at(x, 25.0).red() + 60
    assert color_at(20.0, 10.0) != QColor(theme.paper)
    assert color_at(WIDTH + 5.0, 10.0) == QColor(theme.paper)


def test_a_press_without_a_move_chooses_and_changes_nothing(bench: Bench, hand: HandOver) -> None:
    stack = bench.document.stack
    hand.drag(hand.over(55.3, 35.0), hand.over(55.3, 35.0) + QPointF(1.0, 0.0))
    assert bench.document.chosen == (1,)
    hand.press(hand.over(20.3, 35.0), keys=Qt.KeyboardModifier.ControlModifier)
    hand.release()
    assert bench.document.chosen == (0, 1)
    hand.press(hand.over(40.0, 10.0))
    hand.release()
    assert bench.document.chosen == ()
    assert bench.document.stack is stack


def test_chosen_passes_are_dragged_together(bench: Bench, hand: HandOver) -> None:
    bench.document.choose((0, 1))
    before = [numbers(bench, index) for index in (0, 1)]
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(24.0, -12.0), ALT)
    moved = [
        (now[0] - was[0], now[1] - was[1])
        for was, now in zip(before, (numbers(bench, 0), numbers(bench, 1)), strict=True)
    ]
    assert moved[0] == pytest.approx(moved[1])
    assert moved[0][0] == pytest.approx(24.0 / bench.axis.scale, abs=HALF_STEP)
    assert bench.document.session.undo_label == "Move passes 1 and 2"


def test_numbers_can_be_typed_while_dragging(bench: Bench, hand: HandOver, qtbot: QtBot) -> None:
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(30.0, 0.0))
    qtbot.keyClicks(bench.section, "31.25")
    assert numbers(bench)[0] == 31.25
    hand.move(begin + QPointF(60.0, 3.0))
    assert numbers(bench)[0] == 31.25, "a typed number no longer follows the hand"
    qtbot.keyClick(bench.section, Qt.Key.Key_Tab)
    qtbot.keyClicks(bench.section, "1/2 in")
    assert numbers(bench) == (31.25, 12.7)
    qtbot.keyClick(bench.section, Qt.Key.Key_Return)
    assert bench.section.move_now is None
    assert numbers(bench) == (31.25, 12.7)
    assert bench.document.session.undo_label == "Move pass 1"


def test_numbers_are_typed_without_a_mouse(bench: Bench, qtbot: QtBot) -> None:
    qtbot.keyClick(bench.section, Qt.Key.Key_N)
    qtbot.keyClick(bench.section, Qt.Key.Key_N)
    assert bench.document.chosen == (1,)
    qtbot.keyClick(bench.section, Qt.Key.Key_P)
    assert bench.document.chosen == (0,)
    qtbot.keyClicks(bench.section, "188")
    qtbot.keyClick(bench.section, Qt.Key.Key_Backspace)
    qtbot.keyClick(bench.section, Qt.Key.Key_Tab)
    qtbot.keyClicks(bench.section, "7.5")
    qtbot.keyClick(bench.section, Qt.Key.Key_Enter)
    assert numbers(bench) == (18.0, 7.5)
    bench.document.undo()
    assert numbers(bench) == (20.3, 9.7)
    qtbot.keyClicks(bench.section, "99")
    qtbot.keyClick(bench.section, Qt.Key.Key_Escape)
    assert numbers(bench) == (20.3, 9.7)


def test_arrows_nudge_and_a_row_of_nudges_is_one_step(bench: Bench, qtbot: QtBot) -> None:
    step = nudge_step("mm")
    bench.document.choose((0,))
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Down):
        qtbot.keyClick(bench.section, key)
    assert numbers(bench) == pytest.approx((20.3 + 2 * step, 9.7 + step))
    qtbot.keyClick(bench.section, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert numbers(bench)[0] == pytest.approx(20.3 - 8 * step)
    qtbot.keyClick(bench.section, Qt.Key.Key_Up, Qt.KeyboardModifier.ControlModifier)
    assert numbers(bench)[1] == pytest.approx(9.7 + 0.9 * step)
    bench.document.undo()
    assert numbers(bench) == (20.3, 9.7)
    assert bench.document.session.undo_label is None


def test_a_nudge_never_takes_a_depth_below_its_least(bench: Bench, qtbot: QtBot) -> None:
    bench.document.edit(board(Pass("flat", 20.0, 0.05)), "Shallow")
    bench.document.choose((0,))
    with qtbot.waitSignal(bench.document.said):
        qtbot.keyClick(bench.section, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert numbers(bench) == (20.0, 0.05)


@pytest.mark.parametrize(
    ("angle", "way", "expected"),
    [
        # turned over: right on the screen is toward the left side as it lies, up is deeper
        (180.0, QPointF(30.0, 0.0), (-1.0, 0.0)),
        (180.0, QPointF(0.0, -30.0), (0.0, 1.0)),
        # right side up: moving right on the screen lifts the bit, moving up takes it to the left
        (90.0, QPointF(30.0, 0.0), (0.0, -1.0)),
        (90.0, QPointF(0.0, -30.0), (-1.0, 0.0)),
    ],
)
def test_a_pass_of_a_turned_setup_moves_along_its_own_axes(
    qtbot: QtBot, angle: float, way: QPointF, expected: tuple[float, float]
) -> None:
    setups = (Setup("other", angle),)
    bench = bench_on(board(Pass("flat", 20.0, 10.0, setup="other"), target=None, setups=setups))
    qtbot.addWidget(bench)
    hand = HandOver(bench.section, bench)
    assert bench.document.report is not None
    middle = bench.document.report.cut.passes[0]
    region = bench.document.report.cut.removed_by(middle).centroid
    begin = hand.over(region.x, region.y)
    hand.drag(begin, begin + way, ALT)
    moved = 30.0 / bench.axis.scale
    wanted = (20.0 + expected[0] * moved, 10.0 + expected[1] * moved)
    assert numbers(bench) == pytest.approx(wanted, abs=HALF_STEP)


def test_arrows_move_a_turned_pass_the_way_they_point(qtbot: QtBot) -> None:
    setups = (Setup("back", 180.0),)
    bench = bench_on(board(Pass("flat", 20.0, 10.0, setup="back"), target=None, setups=setups))
    qtbot.addWidget(bench)
    bench.document.choose((0,))
    before = bench.document.report
    qtbot.keyClick(bench.section, Qt.Key.Key_Right)
    after = bench.document.report
    assert before is not None
    assert after is not None
    moved = after.cut.strokes[0].region.centroid.x - before.cut.strokes[0].region.centroid.x
    assert moved == pytest.approx(nudge_step("mm"))


def carried(bit_id: str) -> QMimeData:
    data = QMimeData()
    data.setData(BIT, bit_id.encode())
    return data


@pytest.mark.filterwarnings("ignore:Function. .QDrag:DeprecationWarning")  # newer Qt
def test_a_bit_dropped_on_the_section_becomes_a_pass(bench: Bench, hand: HandOver) -> None:
    stack, view, data = bench.document.stack, bench.section, carried("nose")
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    begin, end = hand.over(38.0, 33.0).toPoint(), hand.over(44.0, 31.0)
    entered = QDragEnterEvent(begin, copy, data, left, NO_KEYS)
    QApplication.sendEvent(view, entered)
    assert entered.isAccepted()
    QApplication.sendEvent(view, QDragMoveEvent(end.toPoint(), copy, data, left, ALT))
    assert len(bench.document.stack.passes) == 3, "it is shown while it is carried"
    assert bench.document.session.settled is stack
    QApplication.sendEvent(view, QDropEvent(end, copy, data, left, ALT))
    assert bench.document.stack.passes[2].bit == "nose"
    # its tip is under the pointer
    assert numbers(bench, 2) == pytest.approx((44.0, TOP - 31.0), abs=HALF_STEP + 1e-6)
    assert bench.document.chosen == (2,)
    assert bench.document.session.undo_label == "Place nose"
    bench.document.undo()
    assert bench.document.stack is stack


@pytest.mark.filterwarnings("ignore:Function. .QDrag:DeprecationWarning")  # newer Qt
def test_a_bit_carried_away_leaves_nothing(bench: Bench, hand: HandOver) -> None:
    from PySide6.QtGui import QDragLeaveEvent

    stack, data = bench.document.stack, carried("nose")
    at = hand.over(38.0, 33.0).toPoint()
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    QApplication.sendEvent(bench.section, QDragEnterEvent(at, copy, data, left, NO_KEYS))
    assert bench.document.stack is not stack
    QApplication.sendEvent(bench.section, QDragLeaveEvent())
    assert bench.document.stack is stack
    assert bench.section.move_now is None


def test_a_bit_is_placed_by_keyboard_in_the_middle_as_deep_as_it_may_go(bench: Bench) -> None:
    assert bench.place_bit("nose")
    assert numbers(bench, 2) == pytest.approx((40.0, TOP - 25.0), abs=2e-4)
    assert bench.document.session.undo_label == "Place nose"
    assert not bench.place_bit("no such bit")


def test_a_shipped_bit_is_found_and_a_document_without_target_takes_it(qtbot: QtBot) -> None:
    bench = bench_on(board(target=None))
    qtbot.addWidget(bench)
    shipped = next(iter(bench.document.session.bits_at_hand.drawer))
    assert bench.place_bit(shipped)
    placed = bench.document.stack.passes[2]
    assert (placed.bit, placed.offset) == (shipped, 40.0)
    assert 0.0 < placed.depth <= TOP / 4.0


def wheel(bench: Bench, at: QPointF, clicks: int) -> None:
    view = bench.section
    event = QWheelEvent(
        at, view.mapToGlobal(at), QPoint(), QPoint(0, 120 * clicks), Qt.MouseButton.NoButton,
        NO_KEYS, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view, event)


def test_the_wheel_zooms_and_what_is_under_the_pointer_stays(bench: Bench) -> None:
    at = QPointF(311.0, 207.0)
    place, scale = bench.section.place_of(at), bench.axis.scale
    wheel(bench, at, 3)
    assert bench.axis.scale == pytest.approx(scale * 1.2**3)
    assert bench.section.place_of(at) == pytest.approx(place)
    wheel(bench, at, -5)
    assert bench.section.place_of(at) == pytest.approx(place)


def test_the_zoom_survives_edits_and_the_paper_can_be_moved(bench: Bench, hand: HandOver) -> None:
    wheel(bench, QPointF(311.0, 207.0), 2)
    seen = (bench.axis.left, bench.axis.top, bench.axis.scale)
    bench.document.edit(board(Pass("flat", 33.0, 9.0)), "Change")
    bench.document.undo()
    assert (bench.axis.left, bench.axis.top, bench.axis.scale) == seen
    hand.press(QPointF(300.0, 200.0), MIDDLE)
    hand.move(QPointF(340.0, 190.0))
    hand.release()
    assert bench.axis.left == pytest.approx(seen[0] - 40.0 / seen[2])
    assert bench.axis.top == pytest.approx(seen[1] - 10.0 / seen[2])


def test_the_space_key_moves_the_paper(bench: Bench, hand: HandOver, qtbot: QtBot) -> None:
    stack, left = bench.document.stack, bench.axis.left
    qtbot.keyPress(bench.section, Qt.Key.Key_Space)
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(40.0, 0.0))
    qtbot.keyRelease(bench.section, Qt.Key.Key_Space)
    assert bench.document.stack is stack
    assert bench.axis.left == pytest.approx(left - 40.0 / bench.axis.scale)


def test_fitting_shows_the_whole_blank_beside_the_rulers(bench: Bench) -> None:
    wheel(bench, QPointF(311.0, 207.0), 8)
    bench.fit()
    view, axis = bench.section, bench.axis
    assert axis.pixel_of_x(0.0) > view.ruler_edge
    assert axis.pixel_of_x(80.0) < view.width()
    assert axis.pixel_of_z(TOP) > view.ruler_depth
    assert axis.pixel_of_z(0.0) < view.height()
    whole = axis.scale
    bench.document.choose((0,))
    bench.fit_chosen()
    assert axis.scale > whole
    assert axis.pixel_of_x(20.3 - 6.0) > view.ruler_edge
    assert axis.pixel_of_x(20.3 + 6.0) < view.width()


def test_pointing_lights_a_pass_and_leaving_lets_go(bench: Bench, hand: HandOver) -> None:
    hand.move(hand.over(20.3, 35.0))
    assert bench.document.pointed == 0
    hand.move(hand.over(40.0, 10.0))
    assert bench.document.pointed is None
    bench.section.grab()
    number = next(b for b in bench.section.balloons if b.index == 1)
    hand.move(number.middle)
    assert bench.document.pointed == 1


def test_the_section_has_a_name_and_says_its_keys(bench: Bench) -> None:
    for part in (bench.light, bench.light.slider, bench.section, bench.leftover):
        assert part.accessibleName()
        assert part.accessibleDescription()
    assert "Escape" in bench.section.accessibleDescription()
    assert bench.section.focusPolicy() & Qt.FocusPolicy.TabFocus


def test_what_no_bit_reaches_is_marked_and_says_why(bench: Bench, hand: HandOver) -> None:
    document = bench.document
    document.edit(board(Pass("flat", 40.0, 15.0)), "One groove")
    document.unreached = (Stretch((60.0, 25.0), (70.0, 25.0), 1.0, "a corner is too tight"),)
    document.findings_changed.emit()
    at = hand.over(65.0, 25.0)
    assert tip_at(bench.section, at) == "Not reached: a corner is too tight"
    assert tip_at(bench.section, hand.over(50.0, 25.0)) == ""
    row = bench.section.grab().toImage()
    colors = {row.pixelColor(round(at.x()) + off, round(at.y()) - 2).name() for off in range(12)}
    assert theme_now().leftover.lower() in colors


def test_a_number_says_what_its_pass_is(bench: Bench) -> None:
    bench.section.grab()
    number = next(b for b in bench.section.balloons if b.index == 1)
    tip = tip_at(bench.section, number.middle)
    assert "Pass 2: nose, edge to bit centre 55.30 mm, below face 11.70 mm" in tip
    assert tip_at(bench.section, QPointF(2.0, 2.0)) == KEYS
