"""The command line as whole processes, with the seconds and the memory that each takes."""

from __future__ import annotations

import json
import os
import pathlib
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).parents[2]
CROWN = str(ROOT / "examples" / "cornice" / "crown.stack.toml")

SHEET = os.path.join(tempfile.gettempdir(), "profilestack-crown-sheet.pdf")

COMMANDS = {
    "profilestack --help": ("--help",),
    "profilestack cut crown": ("cut", CROWN),
    "profilestack cut crown --json": ("cut", CROWN, "--json"),
    "profilestack cut crown --spread": ("cut", CROWN, "--spread"),
    "profilestack methods crown": ("methods", CROWN),
    "profilestack plan crown": ("plan", CROWN),
    "profilestack sheet crown": ("sheet", CROWN, "-o", SHEET),
}
PROCESS_BOUNDS = {
    "profilestack --help": (0.15, 200.0),
    "profilestack cut crown": (1.0, 200.0),
    "profilestack cut crown --json": (1.0, 200.0),
    "profilestack cut crown --spread": (3.0, 400.0),
    "profilestack methods crown": (1.0, 200.0),
    "profilestack plan crown": (1.0, 200.0),
    "profilestack sheet crown": (1.5, 250.0),
}
"""Seconds and megabytes at most."""

_WATCH = """
import json, resource, subprocess, sys, time
begin = time.perf_counter()
done = subprocess.run([sys.executable, "-m", "profilestack", *sys.argv[1:]],
                      stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
seconds = time.perf_counter() - begin
# a child's peak is in kilobytes on Linux, in bytes on macOS
unit = 1 if sys.platform == "darwin" else 1024
peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * unit / 1e6
print(json.dumps([seconds, peak, done.returncode, done.stderr]))
"""


def run_measured(words: tuple[str, ...]) -> tuple[float, float]:
    """Run the command once; its seconds and its peak memory [MB].

    A process of its own watches, so that its only child is the one measured.
    """
    watched = subprocess.run(
        [sys.executable, "-c", _WATCH, *words], cwd=ROOT, capture_output=True, text=True, check=True
    )
    seconds, peak, code, said = json.loads(watched.stdout)
    # 1 is an answer too: a tolerance is broken, or a caution says stop
    assert code in (0, 1), said
    return float(seconds), float(peak)
