"""The drawer: how bits hang, are looked for, walked over, carried and placed."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QAbstractItemModel, QPoint, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from profilestack.bits.edge import largest_radius
from profilestack.desktop import carrying
from profilestack.desktop.drawer.model import BIT
from profilestack.desktop.drawer.panel import DrawerPanel
from profilestack.desktop.drawer.view import BESIDE
from profilestack.desktop.theme import THEMES, palette_of, theme_now
from profilestack.desktop.window import Window
from profilestack.files.shipped import ALL, read_bits, read_drawer
from profilestack.session.bit_sources import SHIPPED
from tests.gui.drawer_hands import GROOVE, document_of, inked, know, shown


@pytest.fixture
def panel(qtbot: QtBot) -> DrawerPanel:
    return shown(qtbot, document_of(target=GROOVE))


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


def test_the_key_of_the_panel_leads_to_a_bit_that_enter_places(
    qtbot: QtBot, window: Window
) -> None:
    window.actions_by_name["go_drawer"].trigger()
    panel = window.docks["drawer"].widget()
    assert isinstance(panel, DrawerPanel)
    view = panel.at_hand.view
    assert window.focusWidget() is view
    assert panel.chosen == panel.at_hand.model.bits[0]
    assert view.selectionModel().isSelected(view.currentIndex())
    qtbot.keyClick(view, Qt.Key.Key_Return)
    assert [single.bit for single in window.document.stack.passes] == [panel.chosen.id]
    # a bit that was chosen stays, and a form that is open is what the key leads to
    qtbot.keyClick(view, Qt.Key.Key_Right)
    second = panel.chosen
    window.actions_by_name["go_bench"].trigger()
    window.actions_by_name["go_drawer"].trigger()
    assert panel.chosen == second
    panel.begin_form(second)
    window.actions_by_name["go_bench"].trigger()
    window.actions_by_name["go_drawer"].trigger()
    assert panel.form.isAncestorOf(window.focusWidget())


def test_a_frame_shows_that_the_keys_go_to_the_bits(qtbot: QtBot, window: Window) -> None:
    window.activateWindow()
    window.go_to("drawer")
    panel = window.docks["drawer"].widget()
    view, ink = panel.at_hand.view, QColor(theme_now().target)
    qtbot.waitUntil(view.hasFocus)

    def framed() -> bool:
        image = view.viewport().grab().toImage()
        wide, high = image.width() - 1, image.height() - 1
        places = ((0, high // 2), (wide, high // 2), (wide // 2, 0), (wide // 2, high))
        return all(image.pixelColor(*place) == ink for place in places)

    assert framed()
    view.verticalScrollBar().setValue(40)
    assert framed()
    window.go_to("bench")
    qtbot.waitUntil(lambda: not view.hasFocus())
    assert not framed()


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
    seen, image = picture.deviceIndependentSize().toSize(), picture.toImage()
    assert drag.hotSpot() == QPoint(seen.width(), 0), "it hangs at the lower left"
    alphas = {
        (x, y): image.pixelColor(x, y).alphaF()
        for x in range(image.width())
        for y in range(image.height())
    }
    ratio = picture.devicePixelRatio()
    clear = BESIDE * ratio
    near = [a for (x, y), a in alphas.items() if x >= image.width() - clear or y < clear]
    assert not any(near), "the aim is free"
    assert 0.4 < max(alphas.values()) < 0.6, "what lies under it is seen"
    assert drag.mimeData().hasFormat(carrying.BIT)
    drag.deleteLater()


def test_sizes_follow_the_units(panel: DrawerPanel) -> None:
    index = panel.at_hand.model.index_of("core-box-2in")
    assert index.data() == "50.8 mm"
    panel.document.set_units("in")
    assert index.data() == "2 in"


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
