"""The job of setting ways of making one molding side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.cutting.comparison import Comparison, compare
from profilestack.cutting.cut import CHORD, cut_stack
from profilestack.cutting.wanted import Wanted, wanted_in
from profilestack.errors import InputError
from profilestack.files.shipped import read_bits, read_drawer
from profilestack.finding.advice import unreached_stretches
from profilestack.finding.problem import problem_of
from profilestack.jobs.find import FindWishes, request_for
from profilestack.jobs.plan import plan_for
from profilestack.planning.method_ratio import Ratios, ratios_of
from profilestack.planning.methods import Means, Methods, compare_methods
from profilestack.planning.shop import USUAL_SHOP, Shop
from profilestack.stack import Stack


@dataclass(frozen=True, slots=True, eq=False)
class MethodsReport:
    """The ways side by side, and the ratios of ball nose to stacked bits where both can be.

    ``leaves`` says that the stack leaves more than its tolerance though some bit reaches it.
    """

    methods: Methods
    ratios: Ratios | None
    leaves: bool

    @property
    def stack(self) -> Stack:
        """The document."""
        return self.methods.plan.document


def methods_for(
    stack: Stack,
    bits: Mapping[str, Bit],
    shop: Shop = USUAL_SHOP,
    libraries: Sequence[str] = (),
    cusp: float | None = None,
) -> MethodsReport:
    """Plan the stack and work out the other ways.

    Balls, and straight bits to rough out with, come from the given libraries, else from the
    document and the drawer. ``cusp`` [mm]; None: the larger of the stack's own leftover and
    0.05 mm.

    Raises:
        FileError: a library that cannot be read.
        InputError: no target, or what cannot be planned on this machine.
    """
    plan = plan_for(stack, bits, shop, libraries)
    cut = cut_stack(stack, bits, CHORD)
    comparison = compare(cut)
    wanted = None if stack.target is None else wanted_in(stack.blank, stack.target, CHORD)
    offered = {bit.id: bit for bit in stack.bits}
    for name in libraries:
        for bit in read_bits(name).bits:
            offered.setdefault(bit.id, bit)
    for bit in () if libraries else read_drawer().bits:
        offered.setdefault(bit.id, bit)
    stretches, leaves = _unmade(stack, comparison, wanted, tuple(offered.values()))
    means = Means(tuple(offered.values()), cusp, stretches)
    methods = compare_methods(plan, comparison, wanted, means)
    return MethodsReport(methods, ratios_of(methods), leaves)


def _unmade(
    stack: Stack, comparison: Comparison | None, wanted: Wanted | None, bits: tuple[Bit, ...]
) -> tuple[tuple[tuple[float, float], ...], bool]:
    """Stretches of the target (places along it [mm]) that the stack leaves and no bit reaches.

    And whether the stack leaves something although a bit reaches it. The finder is asked only
    where the stack leaves more than its tolerance: it takes longer than all the rest.
    """
    if comparison is None or wanted is None:
        return (), False
    if comparison.leftover_worst <= stack.tolerance.leftover:
        return (), False
    setups = tuple(dict.fromkeys(single.setup for single in stack.passes if single.on))
    try:
        problem = problem_of(request_for(stack, FindWishes(bits=bits, setups=setups)))
    except InputError:  # the finder does not take this stack: nothing is known of what is reached
        return (), True
    found = []
    for stretch in unreached_stretches(problem):
        ends = np.array([stretch.begin, stretch.end])
        first, last = sorted(wanted.line.nearest(ends)[1].tolist())
        found.append((first, last))
    return tuple(found), not found
