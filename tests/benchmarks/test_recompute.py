"""Recompute: cut, compare and caution a stack whose bits are all known (warm).

Run by hand: ``pytest tests/benchmarks --benchmark-enable``; the bounds are for two cores of an
ordinary server or laptop at a quiet moment.
"""

from __future__ import annotations

from typing import Any

import pytest

from profilestack.jobs.cut import cut_and_judge
from tests.benchmarks.stacks import BOUNDS, bits, fitted


@pytest.mark.parametrize("count", [3, 12, 48, 200])
def test_recompute(benchmark: Any, count: int) -> None:
    stack, drawer = fitted(count), bits()
    report = benchmark(cut_and_judge, stack, drawer)
    assert report.comparison is not None
    assert report.comparison.overcut_worst < 0.006, "the passes were to touch the face only"
    if benchmark.enabled and count in BOUNDS:
        assert benchmark.stats.stats.median <= BOUNDS[count]
