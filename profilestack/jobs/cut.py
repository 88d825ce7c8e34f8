"""The job of cutting a stack: passes, volumes, comparison, cautions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from profilestack.bits.bit import Bit
from profilestack.cutting.caution import Caution
from profilestack.cutting.cautions import cautions_of
from profilestack.cutting.comparison import Comparison, compare
from profilestack.cutting.cut import CHORD, Cut, cut_stack
from profilestack.stack import Stack


@dataclass(frozen=True, slots=True, eq=False)
class CutReport:
    """A stack, cut and judged."""

    cut: Cut
    comparison: Comparison | None
    cautions: tuple[Caution, ...]

    @property
    def stack(self) -> Stack:
        """The document that was cut."""
        return self.cut.stack

    @property
    def is_good(self) -> bool:
        """Whether every tolerance holds and no caution says stop."""
        if any(caution.severity == "stop" for caution in self.cautions):
            return False
        if self.comparison is None:
            return True
        tolerance = self.stack.tolerance
        return (
            self.comparison.leftover_worst <= tolerance.leftover
            and self.comparison.overcut_worst <= tolerance.overcut
        )


def cut_and_judge(
    stack: Stack, bits: Mapping[str, Bit], chord: float = CHORD, before: CutReport | None = None
) -> CutReport:
    """Cut a stack, compare it with its target and gather the cautions.

    ``before`` is the report of nearly the same stack, see :func:`cut_stack`.

    Raises:
        InputError: a bit that nobody knows, a target that does not fit the blank.
    """
    cut = cut_stack(stack, bits, chord, before.cut if before is not None else None)
    comparison = compare(cut)
    return CutReport(cut, comparison, cautions_of(cut, comparison))
