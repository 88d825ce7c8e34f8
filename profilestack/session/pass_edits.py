"""What a hand does to passes, as (stack, indices) -> (stack, label): the label is what Undo says.

Passes are counted from 0 here and from 1 in the labels. Where passes change places, a function
beside the edit says where the chosen ones are afterwards.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from profilestack.bits.bit import Bit
from profilestack.cutting.stroke import lie_of
from profilestack.stack import Pass, Stack
from profilestack.stack.edits import (
    with_changed,
    with_passes_added,
    with_passes_moved,
    without_passes,
)
from profilestack.units import from_units

Edited = tuple[Stack, str]
"""The stack after an edit, and what the edit is called."""

NUDGES = {"mm": 0.1, "in": 0.005}
"""A step of the arrow keys, in each unit: a tenth of it is still a figure that a shop can read."""

_LISTED = 3


def nudge_step(units: str) -> float:
    """A step of the arrow keys [mm], for a hand that thinks in ``units``."""
    return from_units(NUDGES[units], units)


def named(indices: Iterable[int]) -> str:
    """The passes as they are spoken of: "pass 3", "passes 3 and 5", "4 passes"."""
    numbers = [str(index + 1) for index in sorted(set(indices))]
    if len(numbers) == 1:
        return f"pass {numbers[0]}"
    if not numbers or len(numbers) > _LISTED:
        return f"{len(numbers)} passes"
    return f"passes {', '.join(numbers[:-1])} and {numbers[-1]}"


def duplicated(stack: Stack, indices: Iterable[int]) -> Edited:
    """Each of these passes once more, in a row behind the last of them."""
    chosen = _known(stack, indices)
    copies = [stack.passes[index] for index in chosen]
    place = chosen[-1] + 1 if chosen else None
    return with_passes_added(stack, copies, place), f"Duplicate {named(chosen)}"


def places_of_duplicates(indices: Iterable[int]) -> tuple[int, ...]:
    """Where the copies stand after :func:`duplicated`."""
    chosen = sorted(set(indices))
    return tuple(range(chosen[-1] + 1, chosen[-1] + 1 + len(chosen))) if chosen else ()


def deleted(stack: Stack, indices: Iterable[int]) -> Edited:
    """The stack without these passes."""
    chosen = _known(stack, indices)
    return without_passes(stack, chosen), f"Delete {named(chosen)}"


def mirrored(stack: Stack, indices: Iterable[int]) -> Edited:
    """These passes on the other side of the blank's middle, each as the blank lies in its setup."""

    def mirror(single: Pass) -> Pass:
        width = lie_of(stack.blank, stack.setup(single.setup).angle).width
        # nine digits: the nearest two places that are not one; twice mirrored is where it was
        return replace(single, offset=round(width - single.offset, 9), pitch=-single.pitch or 0.0)

    chosen = _known(stack, indices)
    return with_changed(stack, chosen, mirror), f"Mirror {named(chosen)}"


def switched(stack: Stack, indices: Iterable[int], on: bool | None = None) -> Edited:
    """These passes cut, or kept without being cut; None: off, unless all of them are off."""
    chosen = _known(stack, indices)
    wanted = not any(stack.passes[index].on for index in chosen) if on is None else on
    changed = with_changed(stack, chosen, lambda single: replace(single, on=wanted))
    return changed, f"Switch {named(chosen)} {'on' if wanted else 'off'}"


def moved_earlier(stack: Stack, indices: Iterable[int]) -> Edited:
    """Each of these passes cut one place earlier, as far as there is room."""
    chosen = _known(stack, indices)
    order = _shifted(len(stack.passes), chosen)
    return _in_order(stack, order), f"Cut {named(chosen)} earlier"


def moved_later(stack: Stack, indices: Iterable[int]) -> Edited:
    """Each of these passes cut one place later, as far as there is room."""
    chosen = _known(stack, indices)
    return _in_order(stack, _shifted_later(len(stack.passes), chosen)), f"Cut {named(chosen)} later"


def places_after_shift(count: int, indices: Iterable[int], later: bool) -> tuple[int, ...]:
    """Where these of ``count`` passes are after :func:`moved_earlier` or :func:`moved_later`."""
    chosen = sorted(set(indices))
    order = _shifted_later(count, chosen) if later else _shifted(count, chosen)
    return tuple(sorted(order.index(index) for index in chosen))


def moved_to_place(stack: Stack, indices: Iterable[int], to: int) -> Edited:
    """These passes cut in a row before the one that is now at ``to``; at the end: their number."""
    chosen = _known(stack, indices)
    return with_passes_moved(stack, chosen, to), f"Change the place of {named(chosen)}"


def places_after_move(indices: Iterable[int], to: int) -> tuple[int, ...]:
    """Where these passes are after :func:`moved_to_place`."""
    chosen = sorted(set(indices))
    first = to - sum(1 for index in chosen if index < to)
    return tuple(range(first, first + len(chosen)))


def nudged(stack: Stack, indices: Iterable[int], across: float, deeper: float) -> Edited:
    """These passes moved ``across`` [mm] to the right and ``deeper`` [mm], as the blank lies.

    Raises:
        InputError: a depth would not stay above 0.
    """

    def move(single: Pass) -> Pass:
        return replace(
            single,
            offset=round(single.offset + across, 9),
            depth=round(single.depth + deeper, 9),
        )

    chosen = _known(stack, indices)
    return with_changed(stack, chosen, move), f"Move {named(chosen)}"


def with_offset(stack: Stack, indices: Iterable[int], offset: float) -> Edited:
    """These passes with their bit's axis so far from the blank's left side [mm]."""
    chosen = _known(stack, indices)
    changed = with_changed(stack, chosen, lambda single: replace(single, offset=offset))
    return changed, f"Change the offset of {named(chosen)}"


def with_depth(stack: Stack, indices: Iterable[int], depth: float) -> Edited:
    """These passes so deep below the blank's top [mm].

    Raises:
        InputError: a depth that is not above 0.
    """
    chosen = _known(stack, indices)
    changed = with_changed(stack, chosen, lambda single: replace(single, depth=depth))
    return changed, f"Change the depth of {named(chosen)}"


def with_setup(stack: Stack, indices: Iterable[int], setup: str) -> Edited:
    """These passes cut in another setup, their offsets and depths as they are.

    Raises:
        InputError: a setup that the stack does not have.
    """
    chosen = _known(stack, indices)
    changed = with_changed(stack, chosen, lambda single: replace(single, setup=setup))
    return changed, f"Change the setup of {named(chosen)}"


def with_bit(stack: Stack, indices: Iterable[int], bit: Bit, carried: bool = False) -> Edited:
    """These passes cut with another bit; ``carried`` puts the bit into the document, if need be."""
    chosen = _known(stack, indices)
    changed = with_changed(stack, chosen, lambda single: replace(single, bit=bit.id))
    if carried:
        changed = with_bits_carried(changed, (bit,))
    return changed, f"Change the bit of {named(chosen)}"


def with_bits_carried(stack: Stack, bits: Iterable[Bit]) -> Stack:
    """The stack with these bits in the document; a bit of that id that it has stays."""
    known = {bit.id for bit in stack.bits}
    new = tuple({bit.id: bit for bit in bits if bit.id not in known}.values())
    return replace(stack, bits=(*stack.bits, *new)) if new else stack


def with_note(stack: Stack, indices: Iterable[int], note: str) -> Edited:
    """These passes with another note."""
    chosen = _known(stack, indices)
    changed = with_changed(stack, chosen, lambda single: replace(single, note=note))
    return changed, f"Change the note of {named(chosen)}"


def with_relief(stack: Stack, indices: Iterable[int], relief: bool) -> Edited:
    """These passes as ones that only clear stock, or as finishing ones."""
    chosen = _known(stack, indices)
    changed = with_changed(stack, chosen, lambda single: replace(single, relief=relief))
    return changed, f"Make {named(chosen)} {'rough out' if relief else 'finish'}"


def _known(stack: Stack, indices: Iterable[int]) -> list[int]:
    return sorted({index for index in indices if 0 <= index < len(stack.passes)})


def _in_order(stack: Stack, order: list[int]) -> Stack:
    return replace(stack, passes=tuple(stack.passes[index] for index in order))


def _shifted(count: int, chosen: list[int]) -> list[int]:
    """The order in which each chosen place has changed with a free one before it."""
    order = list(range(count))
    for index in chosen:
        if index > 0 and order[index - 1] not in chosen:
            order[index - 1], order[index] = order[index], order[index - 1]
    return order


def _shifted_later(count: int, chosen: list[int]) -> list[int]:
    """The same seen from the end."""
    turned = _shifted(count, sorted(count - 1 - index for index in chosen))
    return [count - 1 - index for index in reversed(turned)]
