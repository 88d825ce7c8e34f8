"""Drag frames of the app: from a mouse move to what is painted, without a screen.

A pass is dragged over the section by mouse moves. Each frame is the move's own work (snaps), the
stack cut, compared and cautioned anew, and the three views painted into a picture of the screen's
own pixels. Run from the project's root: ``python -m tests.benchmarks.app_frames [--scale 2]``.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import time
from dataclasses import replace

import numpy as np

LIMITS = {(12, 1.0): (8.0, 16.0), (12, 2.0): (16.0, None), (200, 1.0): (50.0, None)}
"""Median and 95th percentile at most [ms], by passes and scale."""

FRAMES = 240
WARM = 20
"""The first frames fill what is kept from one to the next; they are not counted."""

WIDTH, HEIGHT = 1280, 800


def drag(count: int) -> tuple[list[float], list[float]]:
    """Times of drag frames with so many passes, and of the recompute alone, in between [ms]."""
    from PySide6.QtCore import QEvent, QPointF, Qt
    from PySide6.QtGui import QImage, QMouseEvent
    from PySide6.QtWidgets import QApplication, QWidget

    from profilestack.desktop.axis import Axis
    from profilestack.desktop.bench import Bench
    from profilestack.desktop.document import Document
    from profilestack.jobs.cut import cut_and_judge
    from profilestack.session.bits_at_hand import BitsAtHand
    from profilestack.session.session import Session
    from tests.benchmarks.stacks import bits, fitted

    app = QApplication.instance() or QApplication([])
    stack = fitted(count)
    carried = replace(stack, bits=tuple(bits().values()))
    document = Document(Session(carried, bits=BitsAtHand()))
    bench = Bench(document, Axis())
    bench.resize(WIDTH, HEIGHT)
    bench.show()
    app.processEvents()
    view = bench.section
    ratio = view.devicePixelRatioF()
    screen = QImage(bench.size() * ratio, QImage.Format.Format_ARGB32_Premultiplied)
    screen.setDevicePixelRatio(ratio)
    moved = carried.passes[count // 2]
    begin = QPointF(
        view.axis.pixel_of_x(moved.offset), view.axis.pixel_of_z(40.0 - moved.depth + 1.0)
    )

    def send(kind: QEvent.Type, at: QPointF, held: Qt.MouseButton) -> None:
        button = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else held
        event = QMouseEvent(
            kind, at, view.mapToGlobal(at), button, held, Qt.KeyboardModifier.NoModifier
        )
        app.sendEvent(view, event)

    def paint(widget: QWidget) -> None:
        widget.render(screen)

    left = Qt.MouseButton.LeftButton
    send(QEvent.Type.MouseButtonPress, begin, left)
    found, alone = [], []
    for frame in range(WARM + FRAMES):
        turn = 2.0 * np.pi * frame / 120.0
        at = begin + QPointF(60.0 * np.sin(turn), -20.0 + 30.0 * np.cos(turn))
        before = document.stack
        start = time.perf_counter()
        send(QEvent.Type.MouseMove, at, left)
        paint(bench)
        spent = time.perf_counter() - start
        if frame < WARM or document.stack is before:
            continue  # a snap held the pass where it was: nothing was cut anew
        found.append(1e3 * spent)
        start = time.perf_counter()
        cut_and_judge(document.stack, document.session.bits)
        alone.append(1e3 * (time.perf_counter() - start))
    assert len(found) > FRAMES // 3, "the pass hardly moved"
    assert view.move_now is not None, "nothing was dragged"
    assert document.stack != carried
    send(QEvent.Type.MouseButtonRelease, at, left)
    bench.close()
    return found, alone


def measure(count: int, scale: float) -> bool:
    """Print the figures of one case; whether they keep to the limits."""
    found, alone = drag(count)
    times = np.array(found)
    median, late = float(np.median(times)), float(np.percentile(times, 95.0))
    most, most_late = LIMITS.get((count, scale), (None, None))
    kept = (most is None or median <= most) and (most_late is None or late <= most_late)
    limit = (
        ""
        if most is None
        else f"   at most {most:g}" + ("" if most_late is None else f" and {most_late:g}")
    )
    print(
        f"{count:4d} passes  {WIDTH} x {HEIGHT} at {100 * scale:.0f} %:"
        f"  median {median:6.2f} ms   95 % {late:6.2f} ms{limit}   {'kept' if kept else 'BROKEN'}"
        f"   (of it recompute {np.median(alone):.2f} ms)",
        flush=True,
    )
    return kept


def main() -> int:
    """Measure all cases, each scale in a process of its own."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--scale", type=float)
    parser.add_argument("--passes", type=int, nargs="*", default=[12, 200])
    chosen = parser.parse_args()
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    if chosen.scale is not None:
        kept = [measure(count, chosen.scale) for count in chosen.passes]
        return 0 if all(kept) else 1
    codes = [
        subprocess.run(
            [sys.executable, "-m", "tests.benchmarks.app_frames", "--scale", str(scale),
             "--passes", *map(str, chosen.passes)],
            env={**os.environ, "QT_SCALE_FACTOR": str(scale)}, check=False,
        ).returncode
        for scale in (1.0, 2.0)
    ]  # fmt: skip
    return max(codes)


if __name__ == "__main__":
    raise SystemExit(main())
