"""Edits of a stack's passes: from a stack to a new one. Passes are counted from 0 here."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from profilestack.stack.stack import Pass, Stack


def with_pass(stack: Stack, index: int, single: Pass) -> Stack:
    """The stack with another pass at ``index``."""
    passes = list(stack.passes)
    passes[index] = single
    return replace(stack, passes=tuple(passes))


def with_passes_added(stack: Stack, added: Iterable[Pass], at: int | None = None) -> Stack:
    """The stack with more passes, from ``at`` on; None adds them at the end."""
    passes = list(stack.passes)
    place = len(passes) if at is None else at
    passes[place:place] = added
    return replace(stack, passes=tuple(passes))


def without_passes(stack: Stack, indices: Iterable[int]) -> Stack:
    """The stack without these passes."""
    gone = set(indices)
    kept = tuple(single for index, single in enumerate(stack.passes) if index not in gone)
    return replace(stack, passes=kept)


def with_passes_moved(stack: Stack, indices: Iterable[int], to: int) -> Stack:
    """The stack with these passes cut in a row before the pass that is now at ``to``.

    ``to`` may be the number of passes: then they come last.
    """
    moving = sorted(set(indices))
    rest = [index for index in range(len(stack.passes)) if index not in moving]
    place = sum(1 for index in rest if index < to)
    order = rest[:place] + moving + rest[place:]
    return replace(stack, passes=tuple(stack.passes[index] for index in order))


def with_changed(stack: Stack, indices: Iterable[int], change: Callable[[Pass], Pass]) -> Stack:
    """The stack with ``change`` made to each of these passes."""
    chosen = set(indices)
    passes = tuple(
        change(single) if index in chosen else single for index, single in enumerate(stack.passes)
    )
    return replace(stack, passes=passes)
