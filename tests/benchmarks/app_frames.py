"""Drag frames of the app: from a mouse move to what is painted, without a screen.

A pass is dragged over the section by mouse moves in a window of 1280 x 800. Each frame is the
move's own work (snaps, contacts), the stack cut, compared and cautioned anew, and everything that
shows it painted: by the bench alone (its three views), and by the whole window with the table of
passes, the numbers and the cautions. The light strip shows its line in every frame; its light
follows the hand at a pace of its own, at most 30 times a second. "opening" is the whole window
dragged in at once after it came up, while what the bits are good for is still worked out in the
background. Run from the project's root:

    python -m tests.benchmarks.app_frames
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field, replace
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget

from profilestack.desktop.axis import Axis
from profilestack.desktop.bench import Bench
from profilestack.desktop.desk import Desk
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.at_hand import BitsPage
from profilestack.desktop.main import application
from profilestack.jobs.cut import cut_and_judge
from profilestack.session.places import Places
from profilestack.session.session import Session
from profilestack.stack import Stack
from tests.benchmarks.stacks import THICKNESS, bits, fitted

LIMITS = {(12, 1.0): (8.0, 16.0), (12, 2.0): (16.0, None), (200, 1.0): (50.0, None)}
"""Median and 95th percentile at most [ms], by passes and scale."""

FRAMES = 240
WARM = 20
"""The first frames fill what is kept from one to the next; they are not counted."""

WIDTH, HEIGHT = 1280, 800
LEFT = Qt.MouseButton.LeftButton


class Painted(QWidget):
    """Counts the paint events of a widget, so that no frame is called painted that is not."""

    def __init__(self, widget: QWidget) -> None:
        super().__init__()
        self.count = 0
        widget.installEventFilter(self)

    def eventFilter(self, watched: object, event: QEvent) -> bool:
        """Let all pass."""
        self.count += event.type() == QEvent.Type.Paint
        return False


@dataclass
class Times:
    """Of each frame [ms]: by the clock, by the processor, and the recompute alone by the processor.

    On a machine that has other work too, the processor's own times are the ones to compare.
    """

    clock: list[float] = field(default_factory=list)
    processor: list[float] = field(default_factory=list)
    recompute: list[float] = field(default_factory=list)


def drag(document: Document, bench: Bench) -> Times:
    """Drag a pass round and round, and measure each frame in which it moved."""
    app, view = QApplication.instance(), bench.section
    assert isinstance(app, QApplication)
    before = document.stack
    moved = before.passes[len(before.passes) // 2]
    begin = QPointF(
        bench.axis.pixel_of_x(moved.offset), bench.axis.pixel_of_z(THICKNESS - moved.depth + 1.0)
    )
    painted = [Painted(part) for part in (bench.light, bench.section, bench.leftover)]

    def send(kind: QEvent.Type, at: QPointF) -> None:
        button = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else LEFT
        keys = Qt.KeyboardModifier.NoModifier
        app.sendEvent(view, QMouseEvent(kind, at, view.mapToGlobal(at), button, LEFT, keys))

    send(QEvent.Type.MouseButtonPress, begin)
    times = Times()
    for frame in range(WARM + FRAMES):
        turn = 2.0 * np.pi * frame / 120.0
        at = begin + QPointF(60.0 * np.sin(turn), -20.0 + 30.0 * np.cos(turn))
        shown, counts = document.stack, [each.count for each in painted]
        start, begun = time.perf_counter(), time.thread_time()
        send(QEvent.Type.MouseMove, at)
        app.processEvents()
        clock, processor = time.perf_counter() - start, time.thread_time() - begun
        if frame < WARM or document.stack is shown:
            continue  # a snap held the pass where it was: nothing was cut anew
        assert all(each.count > count for each, count in zip(painted, counts, strict=True))
        times.clock.append(1e3 * clock)
        times.processor.append(1e3 * processor)
        begun = time.thread_time()
        cut_and_judge(document.stack, document.session.bits)
        times.recompute.append(1e3 * (time.thread_time() - begun))
    assert len(times.clock) > FRAMES // 3, "the pass hardly moved"
    assert bench.section.move_now is not None, "nothing was dragged"
    send(QEvent.Type.MouseButtonRelease, at)
    return times


def settle(app: QApplication) -> None:
    """Let everything take its place and be painted once."""
    for _ in range(20):
        app.processEvents()


def on_bench(stack: Stack) -> Times:
    """The frames of the bench alone, as large as a whole window."""
    app = application()
    document = Document(Session(stack))
    bench = Bench(document, Axis())
    bench.resize(WIDTH, HEIGHT)
    bench.show()
    settle(app)
    times = drag(document, bench)
    bench.close()
    return times


def rest(app: QApplication, window: QWidget) -> None:
    """Wait until all that a new window works out in the background is known."""
    bits = next(iter(window.findChildren(BitsPage)))
    end = time.perf_counter() + 60.0
    while bits.reaching.is_busy:
        assert time.perf_counter() < end, "the background never comes to rest"
        app.processEvents()
        time.sleep(0.01)


def in_window(stack: Stack, *, rested: bool = True) -> Times:
    """The frames of a whole window with its panels, once it is at rest or at once."""
    app = application()
    with tempfile.TemporaryDirectory() as folder:
        desk = Desk(app, "light", Places(Path(folder) / "config", Path(folder) / "state"))
        window = desk.show(Session(stack))
        window.resize(WIDTH, HEIGHT)
        window.show()
        settle(app)
        if rested:
            rest(app, window)
        times = drag(window.document, window.bench)
        window.document.session.forget_changes()
        window.close()
        settle(app)
    return times


def measure(what: str, count: int, scale: float) -> dict[str, float]:
    """The figures of one case [ms]: median and 95th percentile by the clock, and processor's."""
    stack = replace(fitted(count), bits=tuple(bits().values()))
    times = on_bench(stack) if what == "bench" else in_window(stack, rested=what == "window")
    return {
        "median": float(np.median(times.clock)),
        "late": float(np.percentile(times.clock, 95.0)),
        "processor": float(np.median(times.processor)),
        "recompute": float(np.median(times.recompute)),
    }


def limits_of(what: str, count: int, scale: float) -> tuple[float | None, float | None]:
    """Median and 95th percentile at most [ms]; None where nothing is bound."""
    return (None, None) if what == "opening" else LIMITS.get((count, scale), (None, None))


def said(what: str, count: int, scale: float, got: dict[str, float]) -> str:
    """One case in words."""
    most, most_late = limits_of(what, count, scale)
    limits = " and ".join(f"{limit:g}" for limit in (most, most_late) if limit is not None)
    kept = (most is None or got["median"] <= most) and (
        most_late is None or got["late"] <= most_late
    )
    return (
        f"{what:>7}  {count:3d} passes at {100 * scale:.0f} %:"
        f"  median {got['median']:6.2f} ms   95 % {got['late']:6.2f} ms"
        f"   processor {got['processor']:6.2f} ms, of it recompute {got['recompute']:5.2f} ms"
        f"   {f'at most {limits}: ' if limits else ''}{'kept' if kept else 'BROKEN'}"
    )


def in_own_process(what: str, count: int, scale: float) -> dict[str, float]:
    """The figures of one case, measured by a process that shows everything at ``scale``."""
    case = (what, str(count), str(scale))
    done = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.app_frames", "--one", *case],
        env={**os.environ, "QT_SCALE_FACTOR": str(scale)}, check=True, capture_output=True,
        text=True,
    )  # fmt: skip
    figures: dict[str, float] = json.loads(done.stdout)
    return figures


def main() -> None:
    """Measure the cases asked for, each in a process of its own."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--scale", type=float, nargs="*", default=[1.0, 2.0])
    parser.add_argument("--passes", type=int, nargs="*", default=[12, 200])
    parser.add_argument("--what", nargs="*", default=["bench", "window"])
    parser.add_argument("--one", nargs=3, metavar=("WHAT", "PASSES", "SCALE"))
    asked = parser.parse_args()
    if asked.one is not None:
        what, count, scale = asked.one
        print(json.dumps(measure(what, int(count), float(scale))))
        return
    for scale in asked.scale:
        for what in asked.what:
            for count in asked.passes:
                got = in_own_process(what, count, scale)
                print(said(what, count, scale, got), flush=True)


if __name__ == "__main__":
    main()
