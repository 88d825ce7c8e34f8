"""Ten thousand edits by hand in the window: how much memory they take, and how long each.

    python -m tests.benchmarks.app_edits [EDITS]

Each edit is painted, as it is under a hand: drags with previews, typed values, passes put in and
taken out, switched and reordered, steps back and forth. All of them stay in the past of the
document, so some growth is meant; what is measured is the process as the system sees it.
"""

from __future__ import annotations

import gc
import os
import random
import statistics
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from PySide6.QtWidgets import QApplication

from profilestack.desktop.desk import Desk
from profilestack.desktop.main import application
from profilestack.desktop.window import Window
from profilestack.session import pass_edits
from profilestack.session.places import Places
from profilestack.stack.edits import with_pass

WARM_UP = 500
"""Edits after which caches are full and everything slow is loaded."""

MOST = 50.0
"""So much may the process grow over 10,000 edits [MB]."""


def resident() -> float:
    """Memory of this process [MB]; Linux."""
    gc.collect()
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def edit(window: Window, dice: random.Random) -> None:
    """One edit, as a hand makes it."""
    document = window.document
    stack = document.stack
    count = len(stack.passes)
    index = dice.randrange(count)
    document.choose([index])
    kind = dice.random()
    if kind < 0.5:  # a drag
        single = stack.passes[index]
        for _ in range(3):
            moved = replace(
                single,
                offset=round(single.offset + dice.uniform(-1, 1), 3),
                depth=round(max(0.5, single.depth + dice.uniform(-0.5, 0.5)), 3),
            )
            document.preview(with_pass(stack, index, moved))
            QApplication.processEvents()
        document.edit(document.stack, f"Move pass {index + 1}")
    elif kind < 0.6:
        document.edit(*pass_edits.nudged(stack, [index], 0.1, 0.0), f"nudge {index}")
    elif kind < 0.7 and count < 14:
        window.passes.duplicate()
    elif kind < 0.8 and count > 8:
        window.passes.delete()
    elif kind < 0.85:
        window.passes.switch()
    elif kind < 0.9:
        window.passes.later()
    elif kind < 0.96:
        document.undo()
    else:
        document.redo()
    QApplication.processEvents()


def main(edits: int) -> None:
    """Edit, and print what it took."""
    with tempfile.TemporaryDirectory() as folder:
        desk = Desk(application(), "light", Places(Path(folder, "config"), Path(folder, "state")))
        window = desk.open_example()
        window.resize(1280, 800)
        dice = random.Random(1)
        for _ in range(WARM_UP):
            edit(window, dice)
        window.keep()
        before, times = resident(), []
        for number in range(1, edits + 1):
            start = time.perf_counter()
            edit(window, dice)
            times.append(time.perf_counter() - start)
            if number % (edits // 10 or 1) == 0:
                window.keep()
                print(f"{number:6} edits: {resident() - before:+6.1f} MB", flush=True)
        growth = resident() - before
        print(f"{before:.0f} MB before, {growth:+.1f} MB after {edits} edits more")
        print(f"median {1000 * statistics.median(times):.1f} ms an edit")
        window.document.session.forget_changes()
        desk.close_all()
    if growth > MOST:
        sys.exit(f"that is more than {MOST:g} MB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)
