"""The command line as its tests call it: in an empty folder, without a drawer of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from profilestack.files.shipped import shipped_examples_dir
from tests.unit.cli.calling import BOARD, Call, Folder


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Folder:
    """An empty folder that commands run in; the drawer would lie in it."""
    monkeypatch.setenv("PROFILESTACK_DRAWER", str(tmp_path / "drawer.bits.toml"))
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(tmp_path)
    return Folder(tmp_path)


@pytest.fixture
def call(folder: Folder, capsys: pytest.CaptureFixture[str]) -> Call:
    return Call(capsys)


@pytest.fixture
def board(folder: Folder) -> str:
    """A stack that fits and has no caution of severity stop."""
    return folder.write("board.stack.toml", BOARD)


@pytest.fixture
def crown() -> str:
    return str(shipped_examples_dir() / "cornice" / "crown.stack.toml")


@pytest.fixture
def casing() -> str:
    """An example that breaks a tolerance."""
    return str(shipped_examples_dir() / "casing" / "as-sampled.stack.toml")
