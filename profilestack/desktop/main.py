"""Starting the app."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import QApplication

from profilestack.desktop.document import Document
from profilestack.desktop.theme import THEMES, palette_of
from profilestack.desktop.window import Window
from profilestack.files.shipped import shipped_examples_dir
from profilestack.session.session import Session

EXAMPLE = "cornice/crown.stack.toml"


def application(theme: str | None = None) -> QApplication:
    """The one application object, made when there is none."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication), "the app has windows"
    app.setApplicationName("profilestack")
    app.setStyle("Fusion")
    if theme is not None:
        app.setPalette(palette_of(THEMES[theme]))
    return app


def run(paths: Sequence[Path] = (), theme: str | None = None) -> int:
    """Show a window for each file, or the example; returns when the last one is closed."""
    app = application(theme)
    opened = paths or [shipped_examples_dir() / EXAMPLE]
    windows = [Window(Document(Session.open(path))) for path in opened]
    for window in windows:
        window.show()
    return app.exec()
