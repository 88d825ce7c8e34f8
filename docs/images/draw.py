"""Take the pictures of the app that the pages show.

Run: python docs/images/draw.py [NAME ...]

Needs no screen. Nothing of the user's is read or written: settings and drawer are those of a first
start, in a folder that is gone afterwards.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PIL import Image
from PySide6.QtCore import QBuffer, QEvent, QEventLoop, QIODevice, QPointF, Qt, QTimer
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget

from profilestack.cutting.stroke import lie_of
from profilestack.desktop.desk import Desk
from profilestack.desktop.find.panel import FindPanel
from profilestack.desktop.main import application
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.window import Window
from profilestack.files.shipped import shipped_examples_dir
from profilestack.session.places import user_places

HERE = Path(__file__).parent
SIZE = (1280, 800)
COLORS = 256
"""So many colours keep the files small; chosen to cover all, the lamp's shades stay smooth."""

LONGEST = 60_000
"""Nothing on the pictures takes longer [ms]."""

SCALES = {"crown-200": "2"}
"""Pictures taken on a screen with more dots: the scale of each."""


def crown(desk: Desk) -> QWidget:
    """The finished example, as the app shows it at its first start."""
    return shown(desk.open_example())


def crown_dark(desk: Desk) -> QWidget:
    """The same by lamp light, with a pass chosen."""
    desk.set_theme("dark")
    window = shown(desk.open_example())
    window.document.choose([4])
    settle()
    return window


def drag(desk: Desk) -> QWidget:
    """A pass in the hand: its outline, its two numbers, and what holds it."""
    window = shown(desk.open_example())
    view, axis = window.bench.section, window.axis
    single = window.document.stack.passes[5]
    top = lie_of(window.document.stack.blank, 0.0).height
    begin = QPointF(axis.pixel_of_x(single.offset), axis.pixel_of_z(top - single.depth + 2.0))
    send(view, QEvent.Type.MouseMove, begin, Qt.MouseButton.NoButton)
    send(view, QEvent.Type.MouseButtonPress, begin, Qt.MouseButton.LeftButton)
    for step in range(1, 9):
        moved = begin + QPointF(3.0 * step, -1.5 * step)
        send(view, QEvent.Type.MouseMove, moved, Qt.MouseButton.LeftButton)
    settle()
    return window


def ways(desk: Desk) -> QWidget:
    """Ways to cut the crown's face, one of them pointed at."""
    file = shipped_examples_dir() / "cornice" / "crown-target.stack.toml"
    window = shown(desk.open(file))
    panel = window.show_panel("find")
    assert isinstance(panel, FindPanel)
    panel.start()
    until(lambda: panel.result is not None and not panel.background.is_busy)
    settle()
    window.activateWindow()
    panel.ways.cards[0].setFocus()
    settle()
    return window


def members(desk: Desk) -> QWidget:
    """A wanted profile while it is built from members."""
    file = shipped_examples_dir() / "cornice" / "crown-target.stack.toml"
    window = shown(desk.open(file))
    panel = window.show_panel("target")
    assert isinstance(panel, TargetPanel)
    panel.members.choose(5)
    settle()
    return window


def printed(desk: Desk) -> QWidget:
    """The sheets of the full-size section before they are printed."""
    window = shown(desk.open_example())
    window.outputs.show_template()
    template = window.outputs.template
    assert template is not None
    until(lambda: not template.is_busy and bool(template.view.sheets))
    settle()
    return template


PICTURES: dict[str, Callable[[Desk], QWidget]] = {
    "crown": crown,
    "crown-dark": crown_dark,
    "crown-200": crown,
    "drag": drag,
    "ways": ways,
    "members": members,
    "print": printed,
}
"""Each picture's file, and what is on it."""


def shown(window: Window) -> Window:
    """The window in the size of the pictures, all of it drawn."""
    window.resize(*SIZE)
    settle()
    return window


def settle(milliseconds: int = 600) -> None:
    """Let everything that was begun come to rest."""
    loop = QEventLoop()
    QTimer.singleShot(milliseconds, loop.quit)
    loop.exec()


def until(is_done: Callable[[], bool]) -> None:
    """Let the app work until something is done."""
    for _ in range(LONGEST // 50):
        if is_done():
            return
        settle(50)
    raise TimeoutError("what the picture shows was not done in time")


def send(widget: QWidget, kind: QEvent.Type, at: QPointF, held: Qt.MouseButton) -> None:
    """A movement of the mouse, or its left button pressed."""
    pressed = kind == QEvent.Type.MouseButtonPress
    button = Qt.MouseButton.LeftButton if pressed else Qt.MouseButton.NoButton
    none = Qt.KeyboardModifier.NoModifier
    event = QMouseEvent(kind, at, widget.mapToGlobal(at), button, held, none)
    QApplication.sendEvent(widget, event)


def take(name: str) -> None:
    """Take one picture."""
    app = application()
    desk = Desk(app, "light", user_places())
    try:
        widget = PICTURES[name](desk)
        buffer = QBuffer()
        buffer.open(QIODevice.OpenModeFlag.WriteOnly)
        widget.grab().save(buffer, "PNG")
    finally:
        for window in list(desk.windows):
            window.document.session.forget_changes()
            window.close()
    with Image.open(io.BytesIO(buffer.data().data())) as picture:
        few = picture.convert("RGB").quantize(
            COLORS, Image.Quantize.MAXCOVERAGE, kmeans=10, dither=Image.Dither.NONE
        )
    few.save(HERE / f"{name}.png", optimize=True)


def take_apart(name: str) -> None:
    """Take one picture in a process of its own, with the settings of a first start."""
    with tempfile.TemporaryDirectory() as folder:
        own = {
            word: str(Path(folder) / word.lower())
            for word in ("XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME")
        }
        scale = {"QT_SCALE_FACTOR": SCALES.get(name, "1")}
        command = [sys.executable, __file__, f"{PLAIN}{name}"]
        environment = {**os.environ, **own, **scale}
        environment.pop("PROFILESTACK_DRAWER", None)
        subprocess.run(command, env=environment, check=True)


PLAIN = "now:"
"""Before a name on the command line: take the picture in this very process."""


if __name__ == "__main__":
    for wanted in sys.argv[1:] or PICTURES:
        if wanted.startswith(PLAIN):
            take(wanted.removeprefix(PLAIN))
        else:
            take_apart(wanted)
