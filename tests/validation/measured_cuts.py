"""A groove measured at both walls, and what trial cuts of a level floor come to."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from profilestack.planning.explaining import explain
from profilestack.planning.spreading import try_cuts
from profilestack.planning.usual_errors import UsualErrors
from tests.shop import board, lines, stack_of, straight
from tests.validation.check import Check

TOPIC = "Measured test cuts"
GROOVE = "left wall off a, right wall off b, both to the right: offset (a+b)/2, diameter b-a"
NORMAL = "depth alone off, normal: half the cuts are no deeper, 95 % within 1.6449 sigma"

NONE = UsualErrors(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
WIDE = replace(NONE, touch_off=5.0, single_cut=5.0, bit_spread=0.9)
"""So wide that the points alone speak."""

SIGMA = 0.08


def groove_error(kind: str, left: float, right: float) -> float:
    """What is found of a groove 12 wide whose walls stand off by ``left`` and ``right``."""
    stack, bits = stack_of((straight(12.0), 30.0, 8.0))
    heights = np.arange(23.0, 29.6, 0.5)
    walls = [np.column_stack((np.full(len(heights), x), heights))
             for x in (24.0 + left, 36.0 + right)]  # fmt: skip
    answer = explain(stack, bits, np.concatenate(walls), 0.01, errors=WIDE)
    return next(each.error for each in answer.found if each.source.kind == kind)


def floor_overcut(percent: float) -> float:
    """That percentile of the overcut of a level floor whose depth alone is off."""
    return float(np.percentile(floor_overcuts(), percent))


@lru_cache(maxsize=1)
def floor_overcuts() -> np.ndarray:
    bit = straight(60.0, measured=60.0)
    stack, bits = stack_of(
        (bit, 30.0, 10.0), blank=board(60.0, 30.0), target=lines((0.0, 20.0), (60.0, 20.0))
    )
    return try_cuts(stack, bits, 10_000, 7, replace(NONE, touch_off=SIGMA)).overcut_worst


CHECKS = (
    *(
        Check(TOPIC, f"walls off {a:g} and {b:g}: {word}", "mm", GROOVE, "computed", expected,
              lambda kind=kind, a=a, b=b: groove_error(kind, a, b), 0.002,
              "the prior, wide as it is, and the readings' 0.01")
        for a, b in ((0.12, -0.04), (0.05, 0.25))
        for kind, word, expected in (
            ("offset", "offset", (a + b) / 2), ("diameter", "diameter", b - a))
    ),
    Check(TOPIC, f"level floor, touch-off {SIGMA:g}: median overcut", "mm", NORMAL, "computed",
          0.0, lambda: floor_overcut(50.0), 0.003, "10,000 draws"),
    Check(TOPIC, f"level floor, touch-off {SIGMA:g}: 95 % overcut", "mm", NORMAL, "computed",
          1.6448536 * SIGMA, lambda: floor_overcut(95.0), 0.004, "10,000 draws"),
)  # fmt: skip
