"""The app is tested without a screen; settings and journals go to a folder of the test."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest
from PySide6.QtWidgets import QApplication

from profilestack.desktop.desk import Desk
from profilestack.desktop.main import application
from profilestack.desktop.window import Window
from profilestack.files.stack_file import write_stack
from profilestack.session.places import Places
from tests.gui.documents import BOARD


@pytest.fixture(autouse=True)
def own_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing of the user's is read or written."""
    for name in ("XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name.lower()))
    monkeypatch.delenv("PROFILESTACK_DRAWER", raising=False)


@pytest.fixture(scope="session")
def qapp() -> QApplication:
    """The application as the app itself makes it."""
    return application()


@pytest.fixture
def places(tmp_path: Path) -> Places:
    """Where the desk of a test keeps its settings and journals."""
    return Places(tmp_path / "config", tmp_path / "state")


@pytest.fixture
def desk(qtbot: object, qapp: QApplication, places: Places) -> Iterator[Desk]:
    """A desk without windows; what is open at the end is thrown away unasked."""
    desk = Desk(qapp, "light", places)
    yield desk
    clear(desk)
    desk.deleteLater()


@pytest.fixture
def window(desk: Desk) -> Window:
    """A window with a small blank board."""
    window = desk.new()
    window.resize(1280, 800)
    return window


def clear(desk: Desk) -> None:
    """Close all windows of a desk without questions."""
    for window in list(desk.windows):
        window.document.session.forget_changes()
        window.close()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A stack in a file."""
    path = tmp_path / "crown.stack.toml"
    write_stack(BOARD, path)
    return path
