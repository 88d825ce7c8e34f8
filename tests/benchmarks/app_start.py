"""From the command to the first painted window with the example, each time in a new process.

    python -m tests.benchmarks.app_start [TIMES]

A warm disk, no screen (Qt's offscreen platform): what is measured is the program.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time

MOST = 1.5
"""So long may it take [s]."""

CODE = """
import os, sys
from PySide6.QtCore import QEvent, QObject
from profilestack.desktop import main

class Watcher(QObject):
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint and type(watched).__name__ == "SectionView":
            print("painted", flush=True)
            os._exit(0)
        return False

app = main.application()
watcher = Watcher()
app.installEventFilter(watcher)
sys.exit(main.run())
"""


def start(folder: str) -> float:
    """Seconds from the command until the section is painted."""
    places = dict.fromkeys(("XDG_CONFIG_HOME", "XDG_STATE_HOME"), folder)
    own = os.environ | places | {"QT_QPA_PLATFORM": "offscreen", "OPENBLAS_NUM_THREADS": "1"}
    begin = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", CODE], env=own, capture_output=True, text=True, check=True
    )
    assert done.stdout == "painted\n", done.stderr
    return time.perf_counter() - begin


def starts(times: int) -> list[float]:
    """Seconds of so many starts, the quickest first."""
    with tempfile.TemporaryDirectory() as folder:
        start(folder)  # warms the disk
        return sorted(start(folder) for _ in range(times))


def main(times: int) -> None:
    """Start so many times, and print how long it took."""
    taken = starts(times)
    median = statistics.median(taken)
    print(f"median {median:.2f} s of {times} starts, from {taken[0]:.2f} to {taken[-1]:.2f}")
    if median > MOST:
        sys.exit(f"that is more than {MOST:g} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 9)
