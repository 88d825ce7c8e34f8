"""Which of several chains is meant, and the words that tell them apart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from profilestack.errors import InputError, Problem
from profilestack.targets.tracing import Chain

MOST_NAMED = 8
"""So many chains are named when they do not join."""


class SeveralChains(InputError):
    """Nothing says which chain is meant; ``chains`` are all there are, counted from 1."""

    def __init__(self, problems: Problem | Iterable[Problem], chains: Sequence[Chain]) -> None:
        self.chains = tuple(chains)
        super().__init__(problems)


def chosen(chains: Sequence[Chain], pick: str | int | None) -> tuple[Chain, tuple[str, ...]]:
    """The chain that is meant, and notes on those left out.

    ``pick`` is "longest", a number from 1 (the longest) on, or None: then there must be one only.

    Raises:
        InputError: there is none.
        SeveralChains: there are others, and ``pick`` does not say which, or names none.
    """
    if not chains:
        raise InputError(Problem("target", "holds no line, arc or curve", "a drawn profile"))
    if len(chains) == 1 and pick in (None, "longest", 1):
        return chains[0], ()
    number = 1 if pick == "longest" else pick
    if isinstance(number, int) and 1 <= number <= len(chains):
        noun = "chain is" if len(chains) == 2 else "chains are"
        return chains[number - 1], (f"{len(chains) - 1} other {noun} left out",)
    if pick is not None:
        expected = f'"longest" or 1 to {len(chains)}'
        raise SeveralChains(Problem("pick", f"{pick!r} names no chain", expected), chains)
    listed = "; ".join(
        f"{number}: {describe(chain)}" for number, chain in enumerate(chains[:MOST_NAMED], 1)
    )
    more = f"; and {len(chains) - MOST_NAMED} more" if len(chains) > MOST_NAMED else ""
    raise SeveralChains(
        Problem(
            "target", f"falls into {len(chains)} chains: {listed}{more}", "one profile",
            "widen the gap, choose a layer, or pick one by its number or as longest",
        ),
        chains,
    )  # fmt: skip


def describe(chain: Chain) -> str:
    """Where a chain comes from, how long it is, from where to where."""
    label = f"{chain.label}, " if chain.label else ""
    (x0, z0), (x1, z1) = chain.start, chain.end
    way = "closed" if chain.is_closed else f"({x0:.3f}, {z0:.3f}) to ({x1:.3f}, {z1:.3f})"
    return f"{label}{chain.length:.2f} mm, {way}"
