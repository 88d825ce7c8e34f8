"""Targets that are known to be makeable are made, by no more passes and bits than were planted."""

from __future__ import annotations

import random

import pytest

from profilestack.bits.bit import Bit
from tests.planted import Planted, drawer, find_planted, judge, planted

COUNTS = {1: 2, 2: 3, 3: 3, 4: 4, 5: 4, 6: 4}
CASES = [(size, seed) for size, count in COUNTS.items() for seed in range(count)]
"""Passes planted, and seed."""


def drawer_with(wanted: Planted, others: int) -> list[Bit]:
    """The bits that were planted, and some more of the drawer."""
    used = {single.bit for single in wanted.stack.passes}
    rest = [bit for bit in drawer() if bit.id not in used]
    chosen = {bit.id for bit in random.Random(wanted.seed).sample(rest, others)}
    return [bit for bit in drawer() if bit.id in used | chosen]


@pytest.mark.parametrize(("size", "seed"), CASES)
def test_no_more_passes_and_bits_are_needed_than_were_planted(size: int, seed: int) -> None:
    wanted = planted(seed, size)
    verdict = judge(find_planted(wanted, drawer_with(wanted, 5)))
    assert verdict.complaints == ()
    assert verdict.meets(wanted), (verdict.passes, verdict.bits)


def test_planted_stacks_are_what_they_are_said_to_be() -> None:
    for size, seed in CASES:
        wanted = planted(seed, size)
        assert wanted.passes == size
        assert wanted == planted(seed, size)
