"""A shop: its machine, its woods, and what changing, fixing, cutting and sanding take.

All defaults are common practice on a CNC router with manual bit change, from memory: they are
assumptions to be edited, and are said wherever they drive an answer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, fields, replace

from profilestack.errors import InputError, Problem
from profilestack.planning.machine import USUAL_MACHINES, Machine
from profilestack.planning.species import Species, species_called
from profilestack.planning.speeds import USUAL_CHIPS, ChipRange


@dataclass(frozen=True, slots=True)
class Shop:
    """Minutes, and feeds in mm/min.

    ``change`` is a bit change with touch-off; ``refix`` puts a piece back each time it comes on
    the table; an extra setup costs ``setup_once`` and ``setup_piece`` a piece, a wedge or cradle
    ``wedge`` once, and every setup a ``test`` piece. ``back`` is return and lead of a pass of
    2.4 m. Sanding is per metre, with so much more per mm2 of leftover area.

    ``rate`` is money an hour. ``allowance`` [mm] is what rough-out cuts leave for the last light
    cut. ``rim_speed`` [m/s] is the fastest rim. ``force`` [N/mm2] is the cutting force of a wood
    of ``force_density`` [kg/m3]; that of others goes with their density. ``load`` is the
    share of the spindle's power that a cut may take.

    Raises:
        InputError: naming every figure that is impossible.
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
    rate: float = 85.0
    allowance: float = 0.5
    rim_speed: float = 56.0
    force: float = 32.0
    force_density: float = 650.0
    load: float = 0.8
    name: str = ""
    machine: Machine = field(default_factory=Machine)
    species: tuple[Species, ...] = ()
    chips: tuple[ChipRange, ...] = USUAL_CHIPS

    def __post_init__(self) -> None:
        if problems := tuple(_problems(self)):
            raise InputError(problems)

    def pass_minutes(self, length: float, feed: float) -> float:
        """One travel along a part of ``length`` [mm], there and back."""
        return length / feed + self.back * length / 2400.0

    def bit_minutes(self, pieces: int) -> float:
        """One more bit in one setup: all bits on each piece, or one bit through all pieces."""
        return min(pieces * self.change, self.change + pieces * self.refix)

    def wood(self, word: str | None) -> Species:
        """The wood of that name.

        Raises:
            InputError: nobody knows it; with the nearest known name.
        """
        return species_called(word, self.species)

    def force_in(self, species: Species) -> float:
        """Cutting force [N/mm2]: the wood's own, or the shop's by density (an assumption)."""
        if species.force is not None:
            return species.force
        return self.force * species.density / self.force_density

    def chip_range(self, diameter: float, group: str) -> ChipRange:
        """The usual feed per tooth of a bit of ``diameter`` [mm] in woods of a group."""
        own = sorted((each for each in self.chips if each.group == group), key=_by_diameter)
        fitting = [each for each in own if diameter <= each.diameter]
        return fitting[0] if fitting else own[-1]


def _by_diameter(chips: ChipRange) -> float:
    return chips.diameter


def step_depth(diameter: float, group: str = "hard") -> float:
    """Usual depth of one step [mm] for a bit of ``diameter`` [mm] (common practice).

    Small bits go as deep as they are wide in poplar and pine, half as deep in hardwood.
    """
    if diameter <= 6.0 + 0.36 and group != "hard":  # a 1/4 in bit counts as one of 6 mm
        return diameter
    if diameter <= 20.0:
        return min(diameter / 2.0, 8.0)
    return 6.0 if diameter <= 35.0 else 4.0


def _problems(shop: Shop) -> list[Problem]:
    found = []
    for key in _NUMBERS:
        value = getattr(shop, key)
        above = key in _ABOVE_NOTHING
        if not (math.isfinite(value) and (value > 0.0 or (value == 0.0 and not above))):
            expected = "a number above 0" if above else "0 or more"
            found.append(Problem(key, f"{value!r} is impossible", expected))
    if not 0.0 < shop.load <= 1.0:
        found.append(Problem("load", f"{shop.load!r} is impossible", "a share, 0 to 1"))
    if math.isfinite(shop.allowance) and shop.allowance > LARGEST_ALLOWANCE:
        text = f"{shop.allowance:g} mm is no light cut"
        found.append(Problem("allowance", text, f"0 to {LARGEST_ALLOWANCE:g} mm for the last cut"))
    lacking = [group for group in ("hard", "soft", "board") if not _has(shop.chips, group)]
    if lacking:
        text = f"says nothing for {' and '.join(lacking)} wood"
        found.append(Problem("chips", text, "a range for each of hard, soft and board"))
    words = [species.word for species in shop.species]
    for number, word in enumerate(words, 1):
        if word in words[: number - 1]:
            found.append(Problem(f"species[{number}].word", f"{word!r} is there twice"))
    return found


LARGEST_ALLOWANCE = 1.0
"""More than this [mm] is not left for the last light cut (0.4 to 0.8 are common practice)."""


def _has(chips: tuple[ChipRange, ...], group: str) -> bool:
    return any(each.group == group for each in chips)


_ABOVE_NOTHING = ("finish_feed", "rough_feed", "rim_speed", "force", "force_density", "load")
_NUMBERS = tuple(each.name for each in fields(Shop) if each.type == "float")


USUAL_SHOP = Shop()

USUAL_SHOPS = {
    "cnc": USUAL_SHOP,
    "cnc-with-changer": replace(
        USUAL_SHOP, change=0.25, back=0.2, finish_feed=6000.0, rough_feed=6000.0, rate=110.0,
        machine=USUAL_MACHINES["cnc-with-changer"],
    ),
    "router-table": replace(
        USUAL_SHOP, change=6.0, refix=0.3, setup_piece=0.5, wedge=30.0, test=10.0,
        finish_feed=2000.0, rough_feed=3000.0, rate=65.0,
        machine=USUAL_MACHINES["router-table"],
    ),
    "spindle-moulder": replace(
        USUAL_SHOP, change=10.0, refix=0.3, setup_once=20.0, setup_piece=0.5, wedge=30.0,
        test=15.0, finish_feed=5000.0, rough_feed=5000.0, rate=65.0,
        machine=USUAL_MACHINES["spindle-moulder"],
    ),
}  # fmt: skip
"""Usual figures by the kind of machine (common practice, from memory)."""
