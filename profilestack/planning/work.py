"""What a way of making a molding takes, for any number of pieces: minutes and money."""

from __future__ import annotations

from dataclasses import dataclass, replace

from profilestack.planning.minutes import change_minutes, length_of_travel, setup_minutes
from profilestack.planning.plan import PlanMinutes
from profilestack.planning.shop import Shop
from profilestack.stack import Stack


@dataclass(frozen=True, slots=True)
class Work:
    """What a method needs.

    Bits are taken up ``runs`` times, the blank lies in ``setups``; ``roughing``, ``finishing``
    and ``sanding`` are minutes a piece, ``once`` minutes whatever the number of pieces. ``price``
    is what has to be bought for it, in the money of the shop's rate.
    """

    runs: int
    setups: tuple[str, ...]
    roughing: float
    finishing: float
    sanding: float
    once: float = 0.0
    price: float = 0.0

    def parts(self, stack: Stack, shop: Shop, pieces: int) -> PlanMinutes:
        """Minutes for so many pieces: all bits on each, or each bit through all, the quicker."""
        run = replace(stack.run, pieces=pieces)
        changes = min(change_minutes(self.runs, pieces, shop))
        setups = setup_minutes(replace(stack, run=run), self.setups, shop)
        cutting = self.once + pieces * (self.roughing + self.finishing)
        return PlanMinutes(changes, setups, cutting, pieces * self.sanding)

    def cost(self, stack: Stack, shop: Shop, pieces: int) -> float:
        """Money for so many pieces: the shop's rate, and what is bought."""
        return self.parts(stack, shop, pieces).total * shop.rate / 60.0 + self.price

    def fixed_and_each(self, stack: Stack, shop: Shop) -> tuple[float, float]:
        """Money that falls due once, and for each piece, bits changed as suits many pieces."""
        extra = max(0, len(self.setups) - 1)
        tilted = sum(stack.setup(name).angle % 90.0 != 0.0 for name in self.setups)
        once = self.once + extra * shop.setup_once
        once += tilted * shop.wedge + len(self.setups) * shop.test
        each = extra * shop.setup_piece
        all_bits, each_bit = self.runs * shop.change + shop.refix, self.runs * shop.refix
        if all_bits < each_bit:  # a changer: all bits on each piece
            each += all_bits
        else:
            once += self.runs * shop.change
            each += each_bit
        each += self.roughing + self.finishing + self.sanding
        return once * shop.rate / 60.0 + self.price, each * shop.rate / 60.0


def break_even(first: Work, second: Work, stack: Stack, shop: Shop) -> float | None:
    """The length [mm] from which ``second`` costs less than ``first``; None: it never does.

    0 where it always costs less. Both with bits changed as suits many pieces.
    """
    fixed, each = first.fixed_and_each(stack, shop)
    fixed_2, each_2 = second.fixed_and_each(stack, shop)
    if each_2 >= each:
        return None
    pieces = (fixed_2 - fixed) / (each - each_2)
    return max(0.0, pieces) * length_of_travel(stack)
