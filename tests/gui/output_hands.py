"""The shipped example in a window, and what leaves it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from profilestack.desktop.output.template_window import TemplateWindow
from profilestack.desktop.window import Window
from profilestack.files.shipped import shipped_examples_dir
from profilestack.jobs.cut import CutReport

CROWN = shipped_examples_dir() / "cornice" / "crown.stack.toml"


def report_of(window: Window) -> CutReport:
    report = window.document.report
    assert report is not None
    return report


def idle(qtbot: QtBot, is_busy: Callable[[], bool]) -> None:
    qtbot.waitUntil(lambda: not is_busy(), timeout=30_000)


def shown_sheets(qtbot: QtBot, window: Window) -> TemplateWindow:
    window.actions_by_name["print"].trigger()
    sheets = window.outputs.template
    assert sheets is not None
    idle(qtbot, lambda: sheets.is_busy)
    return sheets


def greys(image: QImage) -> np.ndarray:
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8).reshape(grey.height(), grey.bytesPerLine())
    return rows[:, : grey.width()] / 255.0
