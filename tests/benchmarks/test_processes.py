"""Whole processes, as a user starts them: seconds and peak memory of each.

Run by hand: ``pytest tests/benchmarks --benchmark-enable``.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.benchmarks.processes import COMMANDS, PROCESS_BOUNDS, run_measured


@pytest.mark.parametrize("name", COMMANDS)
def test_process(benchmark: Any, name: str) -> None:
    if not benchmark.enabled:
        pytest.skip("whole processes are timed only on demand")
    peaks = []
    benchmark.pedantic(lambda: peaks.append(run_measured(COMMANDS[name])[1]), rounds=7)
    seconds, megabytes = PROCESS_BOUNDS[name]
    assert benchmark.stats.stats.median <= seconds
    assert max(peaks) <= megabytes
