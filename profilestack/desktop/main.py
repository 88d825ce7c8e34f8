"""Starting the app."""

from __future__ import annotations

import signal
import sys
from collections.abc import Sequence
from pathlib import Path
from types import FrameType

from PySide6.QtWidgets import QApplication

from profilestack.desktop.desk import Desk
from profilestack.desktop.display import display_trouble
from profilestack.desktop.faults import Faults
from profilestack.desktop.less_motion import LessMotion
from profilestack.desktop.recovery import offer_recovery
from profilestack.session.bits_at_hand import BitsAtHand


def application() -> QApplication:
    """The one application object, made when there is none."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication), "the app has windows"
    app.setApplicationName("profilestack")
    app.setApplicationDisplayName("profilestack")
    app.setDesktopFileName("profilestack")
    app.setStyle("Fusion")
    return app


def begin(desk: Desk, paths: Sequence[Path] = ()) -> None:
    """Show the first windows, and offer what an earlier run left unsaved.

    Without files that is the example at the first start, later the file that was open last.
    """
    is_first = not desk.settings.started
    last = [Path(name) for name in desk.settings.recent[:1] if Path(name).exists()]
    for path in paths or (() if is_first else last):
        near = desk.windows[-1] if desk.windows else None
        desk.open(path, near)
    if not desk.windows:
        desk.open_example()
    if is_first:
        desk.note_start()
    offer_recovery(desk.windows[-1])


def end_when_told(desk: Desk) -> None:
    """End without questions when the system or the terminal says so; unsaved work is kept.

    Python hears of it when it next has a word to say, which is when a window's file is looked at.
    """

    def end(number: int, _frame: FrameType | None) -> None:
        desk.keep_all()  # offered at the next start
        QApplication.exit(128 + number)

    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        if (number := getattr(signal, name, None)) is not None:
            signal.signal(number, end)


def run(
    paths: Sequence[Path] = (),
    theme: str | None = None,
    libraries: Sequence[str] = (),
    units: str | None = None,
) -> int:
    """Show a window for each file, or the example; returns when the last one is closed.

    ``theme`` and ``units`` hold for this time, instead of those that were chosen.

    Raises:
        FileError: a library is not there or cannot be read.
        InputError: all problems of a library.
    """
    bits = BitsAtHand()
    for name in libraries:
        bits.open_library(name)
    if trouble := display_trouble():
        print(f"profilestack: the app cannot be shown: {trouble}", file=sys.stderr)
        return 2
    app = application()
    desk = Desk(app, theme, bits=bits, units=units)
    faults = Faults(desk.keep_all, app)
    faults.install()
    end_when_told(desk)
    begin(desk, paths)
    LessMotion(app)
    code = app.exec()
    desk.running.end()
    return code
