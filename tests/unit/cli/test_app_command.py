"""``profilestack app`` where no window can be shown; with one, see tests/gui."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from profilestack.cli.main import main

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="other window systems")


def call(**environment: str) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, which Qt would abort."""
    gone = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    own = {name: value for name, value in os.environ.items() if name not in gone} | environment
    words = [sys.executable, "-m", "profilestack", "app"]
    return subprocess.run(words, env=own, capture_output=True, text=True, timeout=60, check=False)


@linux
@pytest.mark.parametrize(
    ("environment", "told"),
    [
        ({}, "there is no screen (neither DISPLAY nor WAYLAND_DISPLAY is set)"),
        ({"DISPLAY": ":4711"}, "the screen DISPLAY=:4711 does not answer"),
        ({"DISPLAY": "nonsense"}, "DISPLAY=nonsense names no screen"),
        (
            {"WAYLAND_DISPLAY": "none", "XDG_RUNTIME_DIR": "/nowhere"},
            "the screen WAYLAND_DISPLAY=none does not answer",
        ),
    ],
)
def test_without_a_screen_it_says_so_in_one_line(environment: dict[str, str], told: str) -> None:
    done = call(**environment)
    assert done.returncode == 2
    assert done.stderr == f"profilestack: the app cannot be shown: {told}\n"
    assert done.stdout == ""


def test_a_library_that_the_system_lacks_is_told_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    for name in [name for name in sys.modules if name.startswith("profilestack.desktop")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "PySide6.QtWidgets", None)
    assert main(["app", str(tmp_path / "any.stack.toml")]) == 2
    told = capsys.readouterr().err
    assert told.startswith("profilestack: the app cannot be shown: ")
    assert "PySide6.QtWidgets" in told
    assert told.count("\n") == 1
