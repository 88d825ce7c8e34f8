"""The usual board shown on a bench, and the numbers of its passes."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from profilestack.desktop.bench import Bench
from tests.gui.benches import bench_on, board

HALF_STEP = 0.005 + 1e-9
"""Numbers that nothing holds are rounded to 0.01 mm."""


def board_shown(qtbot: QtBot) -> Bench:
    made = bench_on(board())
    qtbot.addWidget(made)
    return made


def numbers(bench: Bench, index: int = 0) -> tuple[float, float]:
    single = bench.document.stack.passes[index]
    return (single.offset, single.depth)
