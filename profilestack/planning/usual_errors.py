"""What is usually off when a stack is cut: errors of touch-off, fence, bits, blank and wedge.

One error moves several passes at once: a touch-off all passes of one bit in one setup, an edge
zero all passes of a setup. All figures are common practice, from memory: assumptions to be judged
by a test cut on one's own machine.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from profilestack.bits.bit import Bit
from profilestack.planning.machine import Machine
from profilestack.stack import Stack

Kind = Literal["touch-off", "edge zero", "offset", "depth", "diameter", "blank", "wedge"]


@dataclass(frozen=True, slots=True)
class UsualErrors:
    """Standard deviations [mm], ``wedge`` [deg].

    ``touch_off`` of each bit in each setup, ``edge_zero`` of each setup, ``single_cut`` of each
    pass's own offset and depth. Bits measure ``bit_mean`` more than nominal (< 0: less), give or
    take ``bit_spread``, all over their outline. ``blank``: how the blank lies across in every
    setup after the first, ``wedge``: how it is tipped in a setup on a wedge.
    """

    touch_off: float = 0.08
    edge_zero: float = 0.05
    single_cut: float = 0.02
    bit_mean: float = -0.06
    bit_spread: float = 0.05
    blank: float = 0.2
    wedge: float = 0.2


ON_A_CNC = UsualErrors()
ON_A_TABLE = UsualErrors(touch_off=0.15, edge_zero=0.20)
"""On a router table; the rest as on a CNC."""


def errors_on(machine: Machine) -> UsualErrors:
    """The usual errors of a machine: with the spindle below, those of a router table."""
    return ON_A_TABLE if machine.spindle_below else ON_A_CNC


@dataclass(frozen=True, slots=True)
class Source:
    """One thing that may be off: by ``mean`` give or take ``sigma`` [mm, deg].

    ``passes`` are the places in ``stack.passes`` (from 0) that it moves. Positive is to the right
    (offsets), deeper, wider (diameters), or counter-clockwise (the wedge).
    """

    kind: Kind
    passes: tuple[int, ...]
    sigma: float
    mean: float = 0.0
    bit: str = ""
    setup: str = ""

    @property
    def numbers(self) -> tuple[int, ...]:
        """The passes as a reader counts them, from 1."""
        return tuple(place + 1 for place in self.passes)

    @property
    def words(self) -> str:
        """What it is called, as in "touch-off of v90-1-2in, setup face"."""
        return _WORDS[self.kind].format(bit=self.bit, setup=self.setup, number=self.numbers[0])


_WORDS = {
    "touch-off": "touch-off of {bit}, setup {setup}",
    "edge zero": "edge zero of setup {setup}",
    "offset": "offset of pass {number}",
    "depth": "depth of pass {number}",
    "diameter": "diameter of {bit}",
    "blank": "how the blank lies in setup {setup}",
    "wedge": "wedge of setup {setup}",
}


def sources_of(
    stack: Stack, bits: Mapping[str, Bit], errors: UsualErrors = ON_A_CNC
) -> tuple[Source, ...]:
    """Everything that may be off in a stack, the widest-reaching errors first.

    Bits that were measured are as measured. The first setup has no blank to be laid anew.
    """
    passes = [(place, single) for place, single in enumerate(stack.passes) if single.on]
    found: list[Source] = []

    def moved(**same: str) -> tuple[int, ...]:
        return tuple(
            place
            for place, single in passes
            if all(getattr(single, key) == value for key, value in same.items())
        )

    setups = list(dict.fromkeys(single.setup for _, single in passes))
    for count, name in enumerate(setups):
        here = moved(setup=name)
        found.append(Source("edge zero", here, errors.edge_zero, setup=name))
        if count > 0 and errors.blank > 0.0:
            found.append(Source("blank", here, errors.blank, setup=name))
        if stack.setup(name).angle % 90.0 != 0.0 and errors.wedge > 0.0:
            found.append(Source("wedge", here, errors.wedge, setup=name))
    for bit, setup in dict.fromkeys((single.bit, single.setup) for _, single in passes):
        here = moved(bit=bit, setup=setup)
        found.append(Source("touch-off", here, errors.touch_off, bit=bit, setup=setup))
    for bit in dict.fromkeys(single.bit for _, single in passes):
        if bits[bit].measured is None:
            here = moved(bit=bit)
            found.append(Source("diameter", here, errors.bit_spread, errors.bit_mean, bit=bit))
    for place, single in passes:
        for kind in ("offset", "depth"):
            found.append(
                Source(kind, (place,), errors.single_cut, bit=single.bit, setup=single.setup)
            )
    return tuple(found)
