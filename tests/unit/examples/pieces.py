"""The shipped examples as their tests need them."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath

from profilestack.bits.bit import Bit
from profilestack.files.stack_file import read_stack
from profilestack.jobs.cut import CutReport, cut_and_judge
from profilestack.stack import Stack


@dataclass(frozen=True)
class Pieces:
    """The examples by name, such as "cornice/crown", and the small shop's bits by id."""

    folder: FilePath
    drawer: dict[str, Bit] = field(repr=False)

    def stack(self, name: str) -> Stack:
        return read_stack(self.folder / f"{name}.stack.toml")

    def judged(self, name: str) -> CutReport:
        return self.judge(self.stack(name))

    def judge(self, stack: Stack) -> CutReport:
        return cut_and_judge(stack, self.drawer)

    def in_order(self, name: str, *numbers: int) -> Stack:
        """The stack with just these passes, counted from 1, in this order."""
        stack = self.stack(name)
        return replace(stack, passes=tuple(stack.passes[number - 1] for number in numbers))


def stops(report: CutReport) -> set[str]:
    """The codes of the cautions that say stop."""
    return {caution.code for caution in report.cautions if caution.severity == "stop"}
