"""A placed bit drops to its depth: on the picture only, shortly, where motion is wanted."""

from __future__ import annotations

import json
import math
import shutil
import subprocess
import sys
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QAbstractAnimation, QMimeData, QPointF, Qt, QVariantAnimation
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage
from PySide6.QtWidgets import (
    QApplication,
    QProxyStyle,
    QStyle,
    QStyleHintReturn,
    QStyleOption,
    QWidget,
)
from pytestqt.qtbot import QtBot

from profilestack.desktop import motion
from profilestack.desktop.bench import Bench
from profilestack.desktop.carrying import BIT
from profilestack.desktop.less_motion import LessMotion, says_less
from profilestack.desktop.section.balloons import CLEAR
from profilestack.desktop.section.falling import LASTS
from profilestack.desktop.window import Window
from tests.gui.benches import ALT, NO_KEYS, HandOver, bench_on, board

LONG = 5000
"""A busy computer may take so long until it looks at the clock again [ms]."""


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    made = bench_on(board())
    qtbot.addWidget(made)
    return made


@pytest.fixture
def seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if there were a screen, and somebody looked."""
    monkeypatch.setattr(motion, "is_on_screen", lambda: True)


def clock_of(bench: Bench) -> QVariantAnimation:
    found = bench.section.findChildren(QVariantAnimation)
    assert len(found) == 1
    return found[0]


def is_still(bench: Bench) -> bool:
    stopped = clock_of(bench).state() == QAbstractAnimation.State.Stopped
    assert stopped == (bench.section.falling.index is None)
    return stopped


def picture(widget: QWidget) -> QImage:
    return widget.grab().toImage()


def test_nothing_moves_where_nobody_looks(bench: Bench) -> None:
    assert bench.place_bit("nose")
    assert is_still(bench)


@pytest.mark.usefixtures("seen")
def test_a_placed_bit_drops_and_comes_to_rest(bench: Bench, qtbot: QtBot) -> None:
    shown: list[int | None] = []
    bench.document.changed.connect(lambda: shown.append(len(bench.document.stack.passes)))
    assert bench.place_bit("nose")
    assert bench.section.falling.index == 2
    assert clock_of(bench).duration() == LASTS
    assert shown == [3], "the document changed once, at once"
    assert bench.document.session.undo_label == "Place nose"
    qtbot.waitUntil(lambda: is_still(bench), timeout=LONG)
    assert shown == [3]


@pytest.mark.usefixtures("seen")
def test_only_the_outline_moves_and_ends_where_it_is_without_motion(
    bench: Bench, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench.place_bit("nose")
    clock = clock_of(bench)
    clock.pause()
    pictures = []
    for ms in (0, LASTS // 2, LASTS - 10):
        clock.setCurrentTime(ms)
        pictures.append(picture(bench.section))
    others = [picture(part) for part in (bench.light, bench.leftover)]
    clock.resume()
    qtbot.waitUntil(lambda: is_still(bench), timeout=LONG)
    pictures.append(picture(bench.section))
    assert all(one != other for k, one in enumerate(pictures) for other in pictures[:k])
    monkeypatch.undo()
    bench.document.undo()
    bench.place_bit("nose")
    assert is_still(bench)
    assert picture(bench.section) == pictures[-1]
    assert [picture(part) for part in (bench.light, bench.leftover)] == others


@pytest.mark.usefixtures("seen")
def test_it_drops_from_over_the_face(bench: Bench) -> None:
    bench.place_bit("nose")
    clock_of(bench).pause()
    clock_of(bench).setCurrentTime(0)
    begun = picture(bench.section)
    bench.section.falling.end()
    after = picture(bench.section)
    x = round(bench.axis.pixel_of_x(40.0)) + 12  # beside the axis, where the nose is round
    face = bench.axis.pixel_of_z(40.0)
    over = range(round(face - CLEAR - 12.0), round(face - 1.0))
    changed = [y for y in over if begun.pixel(x, y) != after.pixel(x, y)]
    assert changed, "the outline is over the face"
    # where it comes to rest it is drawn heavily only when it is there
    diagonal = 6.0 * math.sqrt(0.5)
    rest = (bench.axis.pixel_of_x(40.0 + diagonal), bench.axis.pixel_of_z(25.0 + 6.0 - diagonal))
    near = [(round(rest[0]) + i, round(rest[1]) + j) for i in range(-2, 3) for j in range(-2, 3)]
    darkest = [min(seen.pixelColor(*at).lightness() for at in near) for seen in (begun, after)]
    assert darkest[1] < 50 < 80 < darkest[0]


@pytest.mark.usefixtures("seen")
def test_another_edit_ends_it(bench: Bench) -> None:
    stack = bench.document.stack
    for end in (
        bench.document.undo,
        lambda: bench.document.preview(stack),
        bench.zoom_in,
        bench.hide,
    ):
        bench.show()
        bench.place_bit("nose")
        assert not is_still(bench)
        end()
        assert is_still(bench)


@pytest.mark.usefixtures("seen")
def test_a_second_bit_drops_in_its_turn(bench: Bench) -> None:
    bench.place_bit("nose")
    bench.place_bit("flat")
    assert bench.section.falling.index == 3
    assert not is_still(bench)


@pytest.mark.usefixtures("seen")
def test_a_window_that_closes_leaves_no_clock_running(window: Window) -> None:
    window.show()
    bit = next(iter(window.document.session.bits_at_hand.drawer))
    assert window.bench.place_bit(bit)
    clock = clock_of(window.bench)
    assert clock.state() == QAbstractAnimation.State.Running
    ended: list[str] = []
    clock.stateChanged.connect(lambda new, _old: ended.append(new.name))
    window.document.session.forget_changes()
    window.close()
    assert ended == ["Stopped"]


@pytest.mark.usefixtures("seen")
def test_a_bit_dropped_on_the_table_drops_on_the_section(window: Window) -> None:
    window.show()
    bit = next(iter(window.document.session.bits_at_hand.drawer))
    assert window.passes.place(carried(bit), 0)
    assert window.bench.section.falling.index == 0


def carried(bit_id: str) -> QMimeData:
    data = QMimeData()
    data.setData(BIT, bit_id.encode())
    return data


@pytest.mark.usefixtures("seen")
@pytest.mark.filterwarnings("ignore:Function. .QDrag:DeprecationWarning")  # newer Qt
def test_what_a_hand_puts_down_is_there_already(bench: Bench) -> None:
    data, hand = carried("nose"), HandOver(bench.section, bench)
    at, copy, left = hand.over(44.0, 31.0), Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    QApplication.sendEvent(bench.section, QDragEnterEvent(at.toPoint(), copy, data, left, NO_KEYS))
    assert is_still(bench)
    QApplication.sendEvent(bench.section, QDropEvent(at, copy, data, left, ALT))
    assert len(bench.document.stack.passes) == 3
    assert is_still(bench)
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(37.0, -21.0), ALT)
    assert bench.document.session.undo_label == "Move pass 1"
    assert is_still(bench)


class Still(QProxyStyle):
    """A style without motion."""

    def styleHint(
        self,
        hint: QStyle.StyleHint,
        option: QStyleOption | None = None,
        widget: QWidget | None = None,
        more: QStyleHintReturn | None = None,
    ) -> int:
        if hint == QStyle.StyleHint.SH_Widget_Animation_Duration:
            return 0
        return super().styleHint(hint, option, widget, more)


@pytest.mark.usefixtures("seen")
def test_a_style_without_motion_is_heard(bench: Bench) -> None:
    style = Still("Fusion")
    style.setParent(bench)
    bench.section.setStyle(style)
    bench.place_bit("nose")
    assert is_still(bench)


@pytest.fixture
def asked_for_less(qapp: QApplication) -> Iterator[None]:
    qapp.setProperty(motion.LESS, True)
    yield
    qapp.setProperty(motion.LESS, None)


@pytest.mark.usefixtures("seen", "asked_for_less")
def test_a_system_that_asks_for_less_is_heard(bench: Bench, qapp: QApplication) -> None:
    bench.place_bit("nose")
    assert is_still(bench)
    qapp.setProperty(motion.LESS, False)
    bench.place_bit("nose")
    assert not is_still(bench)


@pytest.mark.parametrize(
    ("key", "value", "less"),
    [
        ("reduced-motion", 1, True),
        ("reduced-motion", 0, False),
        ("enable-animations", False, True),
        ("enable-animations", True, False),
        ("AnimationDurationFactor", "0", True),
        ("AnimationDurationFactor", "0.0", True),
        ("AnimationDurationFactor", "0.5", False),
        ("AnimationDurationFactor", "", False),
    ],
)
def test_the_words_of_a_desktop_are_understood(key: str, value: object, less: bool) -> None:
    assert says_less(key, value) is less


def test_without_a_desktop_to_ask_things_may_move(
    qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("DBUS_SESSION_BUS_ADDRESS", raising=False)
    asked = LessMotion(qapp)
    assert not qapp.property(motion.LESS)
    asked.setParent(None)
    asked.deleteLater()


DESKTOP = """
import json
from PySide6.QtCore import ClassInfo, QObject, QTimer, Slot
from PySide6.QtDBus import QDBusConnection, QDBusVariant
from profilestack.desktop.less_motion import LessMotion
from profilestack.desktop.main import application
from profilestack.desktop.motion import LESS

SAID = [{}, {"reduced-motion": 1}, {"enable-animations": False}, {"AnimationDurationFactor": "0"}]
USUAL = {"reduced-motion": 0, "enable-animations": True, "AnimationDurationFactor": "1"}

@ClassInfo({"D-Bus Interface": "org.freedesktop.portal.Settings"})
class Desktop(QObject):
    now = {}

    @Slot(str, str, result=QDBusVariant)
    def Read(self, space, key):
        return QDBusVariant(QDBusVariant({**USUAL, **self.now}[key]))

app = application()
bus = QDBusConnection.connectToBus(QDBusConnection.BusType.SessionBus, "desktop")
desktop = Desktop()
slots = QDBusConnection.RegisterOption.ExportAllSlots
assert bus.registerObject("/org/freedesktop/portal/desktop", desktop, slots)
assert bus.registerService("org.freedesktop.portal.Desktop")
heard = []
asked = LessMotion(app)

def hear():
    if asked.is_waiting:
        return
    heard.append(app.property(LESS))
    if len(heard) == len(SAID):
        app.quit()
        return
    desktop.now = SAID[len(heard)]
    asked.ask()

timer = QTimer(interval=5)
timer.timeout.connect(hear)
timer.start()
app.exec()
print(json.dumps(heard))
"""


@pytest.mark.skipif(shutil.which("dbus-run-session") is None, reason="there is no D-Bus")
def test_a_desktop_is_asked_and_answers() -> None:
    done = subprocess.run(
        ["dbus-run-session", "--", sys.executable, "-c", DESKTOP],
        capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout) == [False, True, True, True]
