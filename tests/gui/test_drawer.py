"""The drawer: bits at hand, filtered, judged, placed, made and kept."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QAbstractItemModel, QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from profilestack.bits.edge import largest_radius
from profilestack.desktop import carrying
from profilestack.desktop.desk import Desk
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.at_hand import OPEN
from profilestack.desktop.drawer.model import BIT, REACH
from profilestack.desktop.drawer.panel import DrawerPanel
from profilestack.desktop.theme import THEMES, palette_of
from profilestack.desktop.window import Window
from profilestack.files.library_file import read_library, write_library
from profilestack.files.shipped import ALL, drawer_path, read_bits, read_drawer
from profilestack.session.bit_sources import DRAWER, OWN, SHIPPED
from profilestack.session.session import Session
from profilestack.stack import Pass
from tests.shop import core_box, lines, stack_of

REBATE = lines((0, 30), (30, 30), (30, 20), (60, 20))
GROOVE = lines((0, 30), (26, 30), (26, 28), (34, 28), (34, 30), (60, 30))


def document_of(**other: object) -> Document:
    return Document(Session(stack_of(**other)[0]))


@pytest.fixture
def panel(qtbot: QtBot) -> DrawerPanel:
    return shown(qtbot, document_of(target=GROOVE))


def shown(qtbot: QtBot, document: Document) -> DrawerPanel:
    panel = DrawerPanel(document)
    document.setParent(panel)
    qtbot.addWidget(panel)
    panel.resize(360, 800)
    panel.show()
    qtbot.waitExposed(panel)
    return panel


def know(qtbot: QtBot, panel: DrawerPanel) -> None:
    """Wait until all is known of the bits that are shown."""
    qtbot.waitUntil(lambda: not panel.at_hand.reaching.is_busy, timeout=20_000)


def fill(panel: DrawerPanel, word: str, text: str) -> None:
    field = panel.form.lines.rows[word].field
    assert isinstance(field, QLineEdit)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)


def test_every_bit_of_the_drawer_hangs_under_its_shape(panel: DrawerPanel) -> None:
    assert sorted(bit.id for bit in panel.at_hand.model.bits) == sorted(read_drawer().ids)
    heading = ""
    for row in range(panel.at_hand.model.rowCount()):
        index = panel.at_hand.model.index(row)
        bit = index.data(BIT)
        if bit is None:
            heading = index.data()
            assert not index.flags() & Qt.ItemFlag.ItemIsEnabled
        else:
            assert bit.shape.word.replace("-", " ") == heading
            assert index.flags() & Qt.ItemFlag.ItemIsDragEnabled


def test_the_model_keeps_the_rules_of_models(qtbot: QtBot, panel: DrawerPanel) -> None:
    mode = QAbstractItemModelTester.FailureReportingMode.Fatal
    tester = QAbstractItemModelTester(panel.at_hand.model, mode)
    assert isinstance(tester.model(), QAbstractItemModel)
    panel.at_hand.choose_source(SHIPPED)
    panel.at_hand.filters.search.setText("cove")
    know(qtbot, panel)
    assert 0 < len(panel.at_hand.model.bits) < len(read_bits(ALL))


def test_bits_hang_inside_the_view_at_one_scale(panel: DrawerPanel) -> None:
    view, model = panel.at_hand.view, panel.at_hand.model
    rooms = {bit: view.visualRect(model.index_of(bit.id)) for bit in model.bits}
    right = view.viewport().width() + 1
    assert all(room.left() >= 0 and room.right() <= right for room in rooms.values())
    for bit, room in rooms.items():
        for other, there in rooms.items():
            assert bit is other or not room.intersects(there)
    by_width = sorted(model.bits, key=largest_radius)
    assert rooms[by_width[-1]].width() > rooms[by_width[0]].width()


def test_filters_by_shape_size_and_other_names(qtbot: QtBot, panel: DrawerPanel) -> None:
    filters = panel.at_hand.filters
    filters.shape.setCurrentIndex(filters.shape.findData("core-box"))
    assert {bit.shape.word for bit in panel.at_hand.model.bits} == {"core-box"}
    qtbot.keyClicks(filters.smallest, "1 in")
    qtbot.keyClick(filters.smallest, Qt.Key.Key_Return)
    qtbot.keyClicks(filters.largest, "38.1")
    qtbot.keyClick(filters.largest, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: len(panel.at_hand.model.bits) == 2)
    assert [2.0 * largest_radius(bit) for bit in panel.at_hand.model.bits] == [25.4, 38.1]
    filters.clear()
    qtbot.keyClicks(filters.search, "half-round")
    assert [bit.shape.word for bit in panel.at_hand.model.bits] == ["bullnose"]
    filters.search.setText("no such bit")
    assert panel.at_hand.model.bits == ()
    assert panel.at_hand.foot.words.text() == "No bit is of this shape, size and name."


def test_what_can_reach_is_inked_and_the_rest_says_why(qtbot: QtBot, panel: DrawerPanel) -> None:
    know(qtbot, panel)
    slim = panel.at_hand.model.index_of("straight-1-4in")
    wide = panel.at_hand.model.index_of("straight-3-4in")
    assert slim.data(REACH).reaches
    assert not wide.data(REACH).reaches
    assert "Reaches nothing here: it is too wide" in wide.data(Qt.ItemDataRole.ToolTipRole)
    assert "within the tolerance" in slim.data(Qt.ItemDataRole.ToolTipRole)
    assert "too wide" in wide.data(Qt.ItemDataRole.AccessibleDescriptionRole)
    # paler on the paper as well
    picture = panel.at_hand.view.viewport().grab().toImage()
    assert inked(picture, panel, "straight-1-4in") > 2 * inked(picture, panel, "straight-3-4in")


def inked(picture: QImage, panel: DrawerPanel, bit_id: str) -> float:
    """The share of dark pixels among those where the bit's edge is."""
    room = panel.at_hand.view.visualRect(panel.at_hand.model.index_of(bit_id))
    ratio = picture.devicePixelRatio()
    middle = room.center().x()
    column = [
        picture.pixelColor(round(middle * ratio), round(y * ratio)).lightness()
        for y in range(room.top() + 4, room.bottom() - 3 * panel.fontMetrics().height())
    ]
    return sum(value < 128 for value in column) / len(column)


def test_judged_anew_only_when_the_target_or_the_blank_changes(
    qtbot: QtBot, panel: DrawerPanel
) -> None:
    know(qtbot, panel)
    stack = panel.document.stack
    panel.document.edit(replace(stack, passes=(Pass("straight-1-4in", 30, 2),)), "Add a pass")
    assert not panel.at_hand.reaching.is_busy
    panel.document.edit(replace(panel.document.stack, target=REBATE), "Change the profile")
    assert panel.at_hand.reaching.is_busy
    know(qtbot, panel)
    assert panel.at_hand.model.index_of("straight-3-4in").data(REACH).reaches
    panel.document.undo()
    know(qtbot, panel)
    assert not panel.at_hand.model.index_of("straight-3-4in").data(REACH).reaches


def test_a_target_that_cannot_be_is_told_and_not_fatal(qtbot: QtBot, panel: DrawerPanel) -> None:
    outside = replace(panel.document.stack, target=lines((0, 10), (90, 10)))
    panel.document.edit(outside, "Change the profile")
    know(qtbot, panel)
    assert "leaves the blank" in panel.at_hand.foot.words.text()
    panel.document.undo()
    know(qtbot, panel)
    assert "leaves the blank" not in panel.at_hand.foot.words.text()


def test_without_a_target_nothing_is_said_of_reach(qtbot: QtBot) -> None:
    panel = shown(qtbot, document_of())
    know(qtbot, panel)
    assert all(
        panel.at_hand.model.index_of(bit.id).data(REACH) is None for bit in panel.at_hand.model.bits
    )


def test_enter_and_double_click_ask_for_the_bit(qtbot: QtBot, panel: DrawerPanel) -> None:
    panel.at_hand.filters.search.setFocus()
    qtbot.keyClicks(panel.at_hand.filters.search, "core box 3/8")
    qtbot.keyClick(panel.at_hand.filters.search, Qt.Key.Key_Return)
    assert panel.at_hand.view.hasFocus() or QApplication.focusWidget() is None
    with qtbot.waitSignal(panel.place_wanted) as asked:
        qtbot.keyClick(panel.at_hand.view, Qt.Key.Key_Return)
    assert asked.args == ["core-box-3-8in"]
    middle = panel.at_hand.view.visualRect(panel.at_hand.model.index_of("core-box-3-8in")).center()
    qtbot.mouseClick(panel.at_hand.view.viewport(), Qt.MouseButton.LeftButton, pos=middle)
    with qtbot.waitSignal(panel.place_wanted):
        qtbot.mouseDClick(panel.at_hand.view.viewport(), Qt.MouseButton.LeftButton, pos=middle)


def test_arrow_keys_walk_over_headings(qtbot: QtBot, panel: DrawerPanel) -> None:
    panel.focus_bits()
    first = panel.chosen
    seen = [first]
    for _ in range(len(panel.at_hand.model.bits) - 1):
        qtbot.keyClick(panel.at_hand.view, Qt.Key.Key_Right)
        seen.append(panel.chosen)
    assert seen == list(panel.at_hand.model.bits)


def test_a_dragged_bit_is_its_id(panel: DrawerPanel) -> None:
    index = panel.at_hand.model.index_of("core-box-2in")
    data = panel.at_hand.model.mimeData([index])
    assert panel.at_hand.model.mimeTypes() == [carrying.BIT]
    assert bytes(data.data(carrying.BIT).data()) == b"core-box-2in"
    assert panel.at_hand.view.dragEnabled()


def test_a_carried_bit_is_pictured_beside_the_pointer(panel: DrawerPanel) -> None:
    view = panel.at_hand.view
    chosen = next(
        index
        for row in range(view.model().rowCount())
        if (index := view.model().index(row, 0)).flags() & Qt.ItemFlag.ItemIsDragEnabled
    )
    view.setCurrentIndex(chosen)
    drag = view.drag_now()
    picture = drag.pixmap()
    assert not picture.isNull()
    assert drag.hotSpot().x() > picture.deviceIndependentSize().width(), "the cut is not hidden"
    assert drag.mimeData().hasFormat(carrying.BIT)
    drag.deleteLater()


def test_sources_and_opened_files(qtbot: QtBot, panel: DrawerPanel, tmp_path: Path) -> None:
    panel.at_hand.choose_source(SHIPPED)
    assert len(panel.at_hand.model.bits) == len(read_bits(ALL))
    panel.at_hand.choose_source(OWN)
    assert panel.at_hand.model.bits == ()
    assert "carries no bits" in panel.at_hand.foot.words.text()
    file = tmp_path / "shed.bits.toml"
    write_library([core_box(22.0)], file)
    panel.at_hand.ask_library = lambda: str(file)
    panel.at_hand.source.setCurrentIndex(panel.at_hand.source.findData(OPEN))
    panel.at_hand.source.activated.emit(panel.at_hand.source.currentIndex())
    assert [bit.id for bit in panel.at_hand.model.bits] == ["core-box 22"]
    assert panel.at_hand.source.currentText() == "shed.bits.toml"
    assert panel.document.session.bit_called("core-box 22") == core_box(22.0)


def test_a_file_that_is_no_library_is_told(panel: DrawerPanel, tmp_path: Path) -> None:
    file = tmp_path / "wrong.bits.toml"
    file.write_text("format = 'profilestack-bits/1'\nunits = 'ells'\n")
    panel.at_hand.ask_library = lambda: str(file)
    panel.at_hand.source.setCurrentIndex(panel.at_hand.source.findData(OPEN))
    panel.at_hand.source.activated.emit(panel.at_hand.source.currentIndex())
    assert "units" in panel.at_hand.foot.words.text()
    assert panel.at_hand.source.currentData() == DRAWER


def test_sizes_follow_the_units(panel: DrawerPanel) -> None:
    index = panel.at_hand.model.index_of("core-box-2in")
    assert index.data() == "50.8 mm"
    panel.document.set_units("in")
    assert index.data() == "2 in"


def test_a_new_bit_is_drawn_while_it_is_typed_and_kept_in_the_drawer(
    qtbot: QtBot, panel: DrawerPanel
) -> None:
    panel.at_hand.choose("core-box-2in")
    panel.at_hand.foot.new.click()
    form = panel.form
    assert form.shape.currentData() == "core-box"
    assert form.drawing.bit is not None
    fill(panel, "diameter", "22")
    assert largest_radius(form.drawing.bit) == 11.0
    assert form.lines.rows["id"].value == "core-box-22-mm"
    fill(panel, "id", "box 22")
    fill(panel, "note", "ground twice")
    form.keep.click()
    assert drawer_path().exists()
    kept = read_drawer().bit("box 22")
    assert kept.note == "ground twice"
    assert len(read_drawer()) == len(read_library(drawer_path())) == 41
    assert panel.chosen == kept
    assert panel.document.session.bit_called("box 22") == kept
    assert panel.document.session.undo_label is None
    assert panel.at_hand.foot.put_back.isVisible()
    panel.at_hand.foot.put_back.click()
    assert "box 22" not in read_drawer()
    assert panel.at_hand.model.index_of("box 22").isValid() is False


def test_problems_stand_at_their_keys_and_nothing_is_kept(panel: DrawerPanel) -> None:
    panel.begin_form()
    form = panel.form
    form.shape.setCurrentIndex(form.shape.findData("v-groove"))
    form.shape.activated.emit(form.shape.currentIndex())
    fill(panel, "tip", "20 mm")
    assert "as wide as the bit" in form.lines.rows["tip"].problem.text()
    assert form.lines.rows["diameter"].problem.isHidden()
    fill(panel, "shank", "nonsense")
    assert "not a length" in form.lines.rows["shank"].problem.text()
    form.keep.click()
    assert not drawer_path().exists()
    assert form.isVisible()
    fill(panel, "tip", "1/64 in")
    fill(panel, "shank", "8")
    assert form.lines.rows["tip"].problem.isHidden()
    assert form.lines.rows["shank"].problem.isHidden()


def test_what_is_missing_is_told_when_it_is_wanted(panel: DrawerPanel) -> None:
    panel.begin_form()
    form = panel.form
    form.shape.setCurrentIndex(form.shape.findData("outline"))
    form.shape.activated.emit(form.shape.currentIndex())
    assert form.lines.rows["outline"].problem.isHidden()
    form.keep.click()
    assert "is missing" in form.lines.rows["outline"].problem.text()


def test_a_name_that_is_taken_is_refused_at_its_key(panel: DrawerPanel) -> None:
    panel.begin_form()
    fill(panel, "id", "core-box-2in")
    panel.form.keep.click()
    assert "is there already" in panel.form.lines.rows["id"].problem.text()
    assert not drawer_path().exists()


def test_changing_a_bit_that_the_document_uses_is_one_step(qtbot: QtBot) -> None:
    one = core_box(20.0)
    document = Document(Session(stack_of((one, 30.0, 5.0), bits=(one,), target=GROOVE)[0]))
    panel = shown(qtbot, document)
    panel.at_hand.choose_source(OWN)
    panel.focus_bits()
    assert panel.chosen == one
    before = document.report
    qtbot.keyClick(panel.at_hand.view, Qt.Key.Key_F2)
    assert panel.form.keep_in.currentData() == OWN
    fill(panel, "measured", "19.6")
    panel.form.keep.click()
    assert document.stack.bits == (replace(one, measured=19.6),)
    assert document.session.undo_label == "Change bit core-box 20"
    assert document.report is not before
    document.undo()
    assert document.stack.bits == (one,)
    assert document.session.undo_label is None
    assert panel.at_hand.model.bits == (one,)


def test_a_changed_drawer_is_seen_by_the_section(qtbot: QtBot) -> None:
    used = read_drawer().bit("core-box-2in")
    document = Document(Session(stack_of((used, 30.0, 5.0))[0]))
    panel = shown(qtbot, document)
    area = document.report.cut.passes[0].removed_area
    panel.at_hand.choose("core-box-2in")
    panel.at_hand.foot.change.click()
    fill(panel, "measured", "50 mm")
    panel.form.keep.click()
    assert document.report.cut.passes[0].removed_area < area
    panel.at_hand.foot.put_back.click()
    assert document.report.cut.passes[0].removed_area == area


def test_a_bit_is_kept_in_another_file(panel: DrawerPanel, tmp_path: Path) -> None:
    file = tmp_path / "new.bits.toml"
    panel.ask_new_library = lambda: str(file)
    panel.begin_form()
    fill(panel, "diameter", "7")
    panel.form.keep_in.setCurrentIndex(panel.form.keep_in.count() - 1)
    panel.form.keep.click()
    assert [largest_radius(bit) for bit in read_library(file)] == [3.5]
    assert panel.at_hand.source.currentText() == "new.bits.toml"
    assert len(panel.at_hand.model.bits) == 1


def test_a_drawer_that_cannot_be_written_is_told(
    panel: DrawerPanel, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("no folder")
    panel.begin_form()
    monkeypatch.setenv("PROFILESTACK_DRAWER", str(tmp_path / "file" / "drawer.bits.toml"))
    panel.form.keep.click()
    assert panel.form.isVisible()
    assert "file" in panel.form.message.text()


def test_the_outline_of_a_drawing_becomes_a_bit(
    qtbot: QtBot, panel: DrawerPanel, tmp_path: Path
) -> None:
    file = tmp_path / "nose.svg"
    file.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">'
        '<path fill="none" d="M 14 15 L 14 24 A 6 6 0 0 0 26 24 L 26 15"/></svg>'
    )
    panel.begin_form()
    form = panel.form
    form.shape.setCurrentIndex(form.shape.findData("outline"))
    form.shape.activated.emit(form.shape.currentIndex())
    form.ask_drawing = lambda: str(file)
    form.lines.rows["outline"].field.click()
    qtbot.waitUntil(lambda: form.lines.rows["outline"].value is not None, timeout=20_000)
    assert largest_radius(form.drawing.bit) == pytest.approx(6.0, abs=0.01)
    assert form.lines.rows["cutting_length"].value == pytest.approx(15.0, abs=0.01)
    form.keep.click()
    assert panel.chosen is not None
    assert panel.chosen.shape.word == "outline"


def test_a_drawing_that_cannot_be_read_is_told(
    qtbot: QtBot, panel: DrawerPanel, tmp_path: Path
) -> None:
    panel.begin_form()
    form = panel.form
    form.shape.setCurrentIndex(form.shape.findData("outline"))
    form.shape.activated.emit(form.shape.currentIndex())
    form.ask_drawing = lambda: str(tmp_path / "none.svg")
    form.lines.rows["outline"].field.click()
    qtbot.waitUntil(lambda: "none.svg" in form.message.text(), timeout=20_000)


def test_a_bit_is_taken_out_of_the_drawer_and_put_back(panel: DrawerPanel) -> None:
    panel.at_hand.choose("core-box-2in")
    panel.at_hand.foot.take_out.click()
    assert "core-box-2in" not in read_drawer()
    panel.at_hand.foot.put_back.click()
    assert "core-box-2in" in read_drawer()
    panel.at_hand.choose_source(SHIPPED)
    panel.at_hand.choose("core-box-2in")
    assert not panel.at_hand.foot.take_out.isEnabled()
    assert "alone" in panel.at_hand.foot.take_out.toolTip()


def test_a_bit_that_only_the_document_has_and_cuts_with_stays(qtbot: QtBot) -> None:
    one = core_box(20.0)
    panel = shown(qtbot, Document(Session(stack_of((one, 30.0, 5.0), bits=(one,))[0])))
    panel.at_hand.choose_source(OWN)
    panel.focus_bits()
    assert not panel.at_hand.foot.take_out.isEnabled()
    assert "A pass cuts with it" in panel.at_hand.foot.take_out.toolTip()


def test_escape_leaves_the_form(qtbot: QtBot, panel: DrawerPanel) -> None:
    panel.begin_form()
    assert panel.form.isVisible()
    qtbot.keyClick(panel.form.shape, Qt.Key.Key_Escape)
    assert not panel.form.isVisible()
    assert panel.at_hand.view.isVisible()


def test_everything_has_a_name_a_tooltip_and_a_place_in_the_tab_order(panel: DrawerPanel) -> None:
    panel.begin_form()
    named = [
        widget
        for widget in panel.findChildren(QWidget)
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and not widget.objectName().startswith("qt_")
        and widget.isVisibleTo(panel)
    ]
    assert len(named) > 10
    for widget in named:
        text = getattr(widget, "text", lambda: "")()
        assert widget.accessibleName() or text, widget
    panel.focus_bits()
    foot = panel.at_hand.foot
    for button in (foot.place, foot.change, foot.new, foot.take_out):
        assert button.toolTip()


def test_in_the_dark_the_bits_are_light(qtbot: QtBot, panel: DrawerPanel) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    before = app.palette()
    try:
        app.setPalette(palette_of(THEMES["dark"]))
        qtbot.waitUntil(lambda: panel.at_hand.view.palette().base().color().lightness() < 60)
        picture = panel.at_hand.view.viewport().grab().toImage()
        assert inked(picture, panel, "straight-1-4in") < 0.75  # the edge is light now
        assert picture.pixelColor(QPoint(2, picture.height() - 3)).lightness() < 60
    finally:
        app.setPalette(before)


def test_larger_type_makes_larger_bits(qtbot: QtBot, panel: DrawerPanel) -> None:
    index = panel.at_hand.model.index_of("core-box-2in")
    before = panel.at_hand.view.visualRect(index).size()
    font = panel.at_hand.view.font()
    font.setPointSizeF(1.5 * font.pointSizeF())
    panel.at_hand.view.setFont(font)
    qtbot.waitUntil(lambda: panel.at_hand.view.visualRect(index).height() > 1.3 * before.height())
    assert panel.at_hand.view.visualRect(index).right() <= panel.at_hand.view.viewport().width()


def test_the_last_of_three_hundred_bits_can_be_seen(qtbot: QtBot) -> None:
    panel = shown(qtbot, document_of())
    panel.at_hand.choose_source(SHIPPED)
    assert len(panel.at_hand.model.bits) > 300
    last = panel.at_hand.model.index_of(panel.at_hand.model.bits[-1].id)
    panel.at_hand.view.scrollToBottom()
    room = panel.at_hand.view.visualRect(last)
    assert panel.at_hand.view.viewport().rect().contains(room.center())
    assert panel.at_hand.view.indexAt(room.center()) == last


def test_placed_from_an_opened_file_a_bit_goes_with_the_document(
    window: Window, tmp_path: Path
) -> None:
    file = tmp_path / "shed.bits.toml"
    write_library([core_box(22.0)], file)
    panel = window.show_panel("drawer")
    assert isinstance(panel, DrawerPanel)
    document = window.document
    panel.at_hand.open_library(str(file))
    panel.focus_bits()
    panel.at_hand.foot.place.click()
    assert [single.bit for single in document.stack.passes] == ["core-box 22"]
    assert document.stack.bits == (core_box(22.0),)
    assert document.session.undo_label == "Place core-box 22"
    # the shipped ones are known everywhere
    panel.at_hand.choose_source(DRAWER)
    panel.at_hand.choose("core-box-2in")
    panel.at_hand.foot.place.click()
    assert [single.bit for single in document.stack.passes] == ["core-box 22", "core-box-2in"]
    assert document.stack.bits == (core_box(22.0),)
    document.undo()
    document.undo()
    assert document.stack.passes == ()
    assert document.stack.bits == ()


def test_a_bit_kept_in_one_window_is_seen_in_the_others(desk: Desk) -> None:
    first, second = desk.new(), desk.new()
    used = read_drawer().bit("core-box-2in")
    stack = second.document.stack
    second.document.edit(replace(stack, passes=(Pass(used.id, 20.0, 3.0),)), "Add a pass")
    area = second.document.report.cut.passes[0].removed_area
    panel, other = first.show_panel("drawer"), second.show_panel("drawer")
    assert isinstance(panel, DrawerPanel)
    assert isinstance(other, DrawerPanel)
    panel.at_hand.choose(used.id)
    panel.at_hand.foot.change.click()
    fill(panel, "measured", "50 mm")
    panel.form.keep.click()
    assert second.document.report.cut.passes[0].removed_area < area
    assert {bit.id: bit for bit in other.at_hand.model.bits}[used.id].measured == 50.0
