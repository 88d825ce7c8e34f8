"""One story in a real window: a screen of its own (Xvfb), keys and mouse from outside (xdotool)."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from profilestack.files.shipped import shipped_examples_dir
from profilestack.files.stack_file import read_stack
from profilestack.session.pass_edits import nudge_step

WAIT = 30.0
"""So long a slow machine is given for each wish [s]."""

pytestmark = pytest.mark.skipif(
    shutil.which("Xvfb") is None or shutil.which("xdotool") is None,
    reason="Xvfb and xdotool are not installed",
)


@pytest.fixture
def screen() -> Iterator[dict[str, str]]:
    """The environment of a screen of 1280 x 800."""
    read, write = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write), "-screen", "0", "1280x800x24", "-nolisten", "tcp"],
        pass_fds=[write], stderr=subprocess.DEVNULL,
    )  # fmt: skip
    os.close(write)
    with os.fdopen(read) as told:
        display = told.readline().strip()
    environment = {**os.environ, "DISPLAY": f":{display}", "QT_QPA_PLATFORM": "xcb"}
    yield environment
    server.terminate()
    server.wait()


class Hand:
    """Keys and mouse of somebody before the screen."""

    def __init__(self, screen: dict[str, str]) -> None:
        self.screen = screen

    def __call__(self, *words: str) -> str:
        done = subprocess.run(
            ["xdotool", *words], env=self.screen, capture_output=True, text=True, check=False
        )
        return done.stdout.strip()

    def window(self, name: str) -> str:
        """The window with that title, once it is there."""
        end = time.monotonic() + WAIT
        while time.monotonic() < end:
            if found := self("search", "--onlyvisible", "--name", name).splitlines():
                return found[-1]
            time.sleep(0.1)
        raise AssertionError(f"no window is called {name}")

    def title(self, window: str) -> str:
        return self("getwindowname", window)

    def until_titled(self, window: str, pattern: str) -> None:
        end = time.monotonic() + WAIT
        while time.monotonic() < end:
            if re.search(pattern, self.title(window)):
                return
            time.sleep(0.1)
        raise AssertionError(f"{self.title(window)!r} never became {pattern!r}")


def test_a_pass_is_moved_and_saved_in_a_real_window(screen: dict[str, str], tmp_path: Path) -> None:
    file = tmp_path / "crown.stack.toml"
    shutil.copy(shipped_examples_dir() / "cornice" / "crown.stack.toml", file)
    before = read_stack(file)
    app = subprocess.Popen([sys.executable, "-m", "profilestack", "app", str(file)], env=screen)
    try:
        hand = Hand(screen)
        window = hand.window("crown")
        hand("windowfocus", "--sync", window)
        assert "*" not in hand.title(window)

        hand("key", "--window", window, "n", "n", "n")  # the third pass, the first on the face
        hand("key", "--window", window, "Right")
        hand("key", "--window", window, "Right")
        hand.until_titled(window, r"\*")

        hand("key", "--window", window, "ctrl+z")  # nudges in a row are one step
        hand.until_titled(window, r"^[^*]*$")
        hand("key", "--window", window, "ctrl+shift+z")
        hand.until_titled(window, r"\*")

        hand("key", "--window", window, "ctrl+s")
        hand.until_titled(window, r"^[^*]*$")
        hand("key", "--window", window, "ctrl+q")
        assert app.wait(WAIT) == 0
    finally:
        app.kill()
        app.wait()

    after = read_stack(file)
    moved = after.passes[2]
    assert moved.offset == pytest.approx(before.passes[2].offset + 2.0 * nudge_step("mm"))
    assert moved == replace(before.passes[2], offset=moved.offset)
    assert replace(after, passes=before.passes) == before
    assert after.passes[:2] + after.passes[3:] == before.passes[:2] + before.passes[3:]
