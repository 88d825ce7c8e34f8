"""Snaps and contacts: asked once for every mouse move of a drag.

Run by hand: ``pytest tests/benchmarks --benchmark-enable``; the bound is for two cores of an
ordinary server or laptop at a quiet moment.
"""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from profilestack.cutting.stroke import silhouette_points
from profilestack.jobs.grounding import ground_of
from profilestack.jobs.snapping import NEAR, Hold, contacts, depth_guides, offset_guides, snap
from tests.benchmarks.stacks import bits, fitted

BOUND = 0.002
"""Median seconds at most."""

HOLD = Hold(reach=0.8, grid=1.0)


@pytest.mark.parametrize("name", list(bits()))
def test_snaps(benchmark: Any, name: str) -> None:
    stack, bit = fitted(12), bits()[name]
    ground = ground_of(stack, "face", bit)
    guides = (
        offset_guides(stack, ground, 0, "face"),
        depth_guides(stack, ground, 0, "face"),
    )
    outline = silhouette_points(bit, NEAR / 2.0)
    wishes = itertools.cycle([
        (5.0 + 0.125 * k, (ground.deepest(5.0 + 0.125 * k) or 5.0) - 0.3) for k in range(400)
    ])  # fmt: skip
    held = 0

    def ask() -> None:
        nonlocal held
        found = snap(ground, guides, next(wishes), HOLD)
        held += bool(found.words)
        contacts(ground, outline, found.offset, found.depth)

    benchmark(ask)
    assert held, "something holds somewhere"
    if benchmark.enabled:
        assert benchmark.stats.stats.median <= BOUND
