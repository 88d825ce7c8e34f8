"""Fit a target to the drawer: radii and quirks moved a little to what the bits at hand have."""

from __future__ import annotations

from collections.abc import Sequence

from profilestack.bits.bit import Bit
from profilestack.errors import InputError, Problem
from profilestack.finding.adapting.adaptation import Adaptation, limit_problem
from profilestack.finding.adapting.adapted_members import adapted_column
from profilestack.finding.adapting.adapted_path import adapted_path
from profilestack.stack import MemberTarget, Stack


def adapted(stack: Stack, bits: Sequence[Bit], limit: float) -> Adaptation:
    """The stack with its target fitted to ``bits``.

    A radius that no bit has moves by ``limit`` [mm] and by 10 % at most, to one that a bit's edge
    has; a quirk into which no bit goes is widened by ``limit`` at most. Fillets and setbacks take
    up the slack, so that overall height and projection stay exactly; none of them shrinks below
    1 mm or below half. What cannot be fitted so stays as drawn and is told. A target drawn as a
    path has its arcs moved, and lines take up the slack; its angles stay.

    Raises:
        InputError: no target, or a limit out of range.
    """
    if stack.target is None:
        raise InputError(Problem("target", "is missing: there is nothing to fit", "a [target]"))
    if problem := limit_problem(limit):
        raise InputError(problem)
    if isinstance(stack.target, MemberTarget):
        return adapted_column(stack, stack.target.column, bits, limit)
    return adapted_path(stack, stack.target, bits, limit)
