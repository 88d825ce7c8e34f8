"""A shop's figures: what changing, fixing, cutting and sanding take.

All defaults are common practice on a CNC router with manual bit change, from memory: they are
assumptions to be edited, and are said wherever they drive an answer.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Shop:
    """Minutes, and feeds in mm/min.

    ``change`` is a bit change with touch-off; ``refix`` puts a piece back each time it comes on
    the table; an extra setup costs ``setup_once`` and ``setup_piece`` a piece, a wedge or cradle
    ``wedge`` once, and every setup a ``test`` piece. ``back`` is return and lead of a pass of
    2.4 m. Sanding is per metre, with so much more per mm2 of leftover area.
    """

    change: float = 3.0
    refix: float = 1.5
    setup_once: float = 15.0
    setup_piece: float = 3.0
    wedge: float = 40.0
    test: float = 8.0
    back: float = 0.3
    finish_feed: float = 3000.0
    rough_feed: float = 4000.0
    sanding: float = 1.75
    sanding_area: float = 1.5

    def pass_minutes(self, length: float, feed: float) -> float:
        """One travel along a part of ``length`` [mm], there and back."""
        return length / feed + self.back * length / 2400.0

    def bit_minutes(self, pieces: int) -> float:
        """One more bit in one setup: all bits on each piece, or one bit through all pieces."""
        return min(pieces * self.change, self.change + pieces * self.refix)


USUAL_SHOP = Shop()


def step_depth(diameter: float) -> float:
    """Usual depth of one step [mm] in hardwood for a bit of ``diameter`` [mm] (common practice)."""
    if diameter <= 20.0:
        return min(diameter / 2.0, 8.0)
    return 6.0 if diameter <= 35.0 else 4.0
