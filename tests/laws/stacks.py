"""Hypothesis strategies for stacks that can be cut: bits of every shape, boards, passes."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

from hypothesis import settings
from hypothesis import strategies as st

from profilestack.bits.bit import Bit
from profilestack.cutting.cut import Cut, cut_stack
from profilestack.stack import Blank, Pass, Rectangle, Round, Run, Setup, Stack, StraightRun
from tests.random_stacks import random_bits, random_fitted_stack

law = settings(max_examples=40, deadline=None, derandomize=True, database=None)
"""Always the same examples, as many as take a second or two."""

CHORD = 0.005


@dataclass(frozen=True)
class Job:
    """A stack and the bits that it is cut with."""

    stack: Stack
    bits: dict[str, Bit]

    def cut(self) -> Cut:
        return cut_stack(self.stack, self.bits, CHORD)

    def with_passes(self, *passes: Pass) -> Job:
        return replace(self, stack=replace(self.stack, passes=passes))


def sizes(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths [mm] in steps of a hundredth: as a shop sets them."""
    return st.integers(round(low * 100), round(high * 100)).map(lambda n: n / 100.0)


drawers = st.integers(0, 30).map(
    lambda seed: {single.id: single for single in random_bits(random.Random(seed))}
)
boards = st.builds(Rectangle, sizes(20.0, 90.0), sizes(12.0, 60.0)).map(Blank)
dowels = st.builds(Round, sizes(20.0, 70.0)).map(Blank)
runs: st.SearchStrategy[Run] = sizes(50.0, 3000.0).map(StraightRun)


@st.composite
def passes_of(draw: st.DrawFn, bits: dict[str, Bit], setups: tuple[str, ...] = ("face",)) -> Pass:
    count = draw(st.sampled_from((1, 1, 1, 2, 3)))
    return Pass(
        draw(st.sampled_from(sorted(bits))),
        draw(sizes(-5.0, 95.0)),
        draw(sizes(0.2, 30.0)),
        draw(st.sampled_from(setups)),
        count,
        draw(sizes(1.0, 20.0)) if count > 1 else 0.0,
    )


@st.composite
def jobs(draw: st.DrawFn, turned: bool = True, most: int = 6) -> Job:
    """Any blank, any bits; with ``turned`` other setups and copies too."""
    bits = draw(drawers)
    setups: tuple[Setup, ...] = ()
    if turned:
        setups = (
            Setup("edge", 90.0),
            Setup("tipped", draw(sizes(-179.0, 179.0))),
            Setup("around", draw(sizes(0.0, 90.0)), draw(st.integers(2, 6))),
        )
    names = ("face", *(setup.name for setup in setups))
    passes = draw(st.lists(passes_of(bits, names), min_size=1, max_size=most))
    stack = Stack(
        blank=draw(st.one_of(boards, dowels)), run=draw(runs), setups=setups, passes=tuple(passes)
    )
    return Job(stack, bits)


fitted_jobs = st.integers(0, 400).map(lambda seed: Job(*random_fitted_stack(seed)))
"""A board with a target of flats, slopes, hollows and rounds, and passes about down to it."""
