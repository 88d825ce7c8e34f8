"""Where a shop's figures come from: a mark and words for each, so that they can be shown.

Marks: read (the source's text was read), computed, secondary (a general guide), memory (common
practice from memory, unverified: an assumption to be edited), judgement (our own).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Literal

from profilestack.planning.shop import USUAL_SHOPS, Shop
from profilestack.planning.species import Species

Unit = Literal[
    "W", "rpm", "length", "feed", "length/s2", "mm2", "min", "min/m", "min/m per mm2",
    "an hour", "m/s", "N/mm2", "kg/m3", "share", "word", "lengths",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Figure:
    """What a figure of the shop is: its table and key in files, its words, unit, source, mark."""

    table: str
    key: str
    words: str
    unit: Unit
    mark: str
    source: str


_PRACTICE = "common practice, from memory"
_MACHINES = "usual for such a machine, from memory; its manual tells the true one"

FIGURES = (
    Figure("machine", "kind", "kind of machine", "word", "memory", "choose your own"),
    Figure("machine", "power", "spindle power at rated speed", "W", "memory", _MACHINES),
    Figure("machine", "rated_speed", "rated speed; below it the torque is constant", "rpm",
           "memory", _MACHINES),
    Figure("machine", "slowest", "slowest spindle speed", "rpm", "memory", _MACHINES),
    Figure("machine", "fastest", "fastest spindle speed", "rpm", "memory", _MACHINES),
    Figure("machine", "largest_feed", "largest feed", "feed", "memory", _MACHINES),
    Figure("machine", "acceleration", "acceleration", "length/s2", "memory", _MACHINES),
    Figure("machine", "rapid", "rapid travel", "feed", "memory", _MACHINES),
    Figure("machine", "chip_section", "largest section of one travel", "mm2", "memory",
           _PRACTICE + ": small table 40 to 60, 2 kW spindle 120 to 150, 5 kW 250 to 300"),
    Figure("machine", "safe_height", "safe height over the blank", "length", "memory", _PRACTICE),
    Figure("machine", "width", "travel across the part", "length", "memory", _MACHINES),
    Figure("machine", "length", "travel along the part", "length", "memory", _MACHINES),
    Figure("machine", "travel", "travel up and down", "length", "memory", _MACHINES),
    Figure("machine", "clearance", "clearance under the gantry", "length", "memory", _MACHINES),
    Figure("machine", "collets", "collets owned", "lengths", "memory", "the usual five"),
    Figure("machine", "nut_diameter", "collet nut, across", "length", "memory",
           _PRACTICE + ": 24 to 50 across"),
    Figure("machine", "nut_height", "collet nut, height", "length", "memory", _PRACTICE),
    Figure("machine", "hood_diameter", "foot of the dust hood, across (0: none)", "length",
           "memory", _PRACTICE + ": 100 to 160 across"),
    Figure("machine", "hood_height", "foot of the dust hood, above the tip", "length", "memory",
           _PRACTICE + ": 5 to 15 above the tip"),
    Figure("minutes", "change", "bit change with touch-off", "min", "memory", _PRACTICE),
    Figure("minutes", "refix", "putting a piece back", "min", "memory", _PRACTICE),
    Figure("minutes", "setup_once", "another setup, once", "min", "memory", _PRACTICE),
    Figure("minutes", "setup_piece", "another setup, each piece", "min", "memory", _PRACTICE),
    Figure("minutes", "wedge", "a wedge or cradle, once", "min", "memory", _PRACTICE),
    Figure("minutes", "test", "a test piece, each setup", "min", "memory", _PRACTICE),
    Figure("minutes", "back", "return and lead of a travel of 2.4 m", "min", "memory", _PRACTICE),
    Figure("minutes", "sanding", "sanding", "min/m", "memory",
           _PRACTICE + ": 1.5 to 2 for a profile of 80 to 100 mm"),
    Figure("minutes", "sanding_area", "sanding of what stands proud", "min/m per mm2", "memory",
           _PRACTICE + ": 1.5 on rounds and flats, 3 in hollows"),
    Figure("cutting", "finish_feed", "feed of a finishing cut", "feed", "memory",
           _PRACTICE + ": 1.5 to 4 m/min on a small machine, 5 to 8 on a heavy one"),
    Figure("cutting", "rough_feed", "feed of a rough cut", "feed", "memory",
           _PRACTICE + ": 3 to 6 m/min"),
    Figure("cutting", "allowance", "left for the last light cut", "length", "memory",
           _PRACTICE + ": 0.4 to 0.8 mm"),
    Figure("cutting", "rim_speed", "fastest rim of a bit", "m/s", "computed",
           "the usual top speeds by diameter amount to 48 to 56 m/s above 1 in"),
    Figure("cutting", "force", "cutting force", "N/mm2", "read",
           "particle board, peripheral milling: B. Palubicki, Materials 14, 2021, 2208; taken for "
           "solid wood by density, for which there is no verified constant"),
    Figure("cutting", "force_density", "density of the wood with that force", "kg/m3", "memory",
           "usual for particle board"),
    Figure("cutting", "load", "share of the spindle's power that a cut may take", "share",
           "judgement", "room for dull edges and hard spots"),
    Figure("money", "rate", "machine and labour", "an hour", "memory", _PRACTICE),
)  # fmt: skip
"""Every figure of a shop but its lists of woods and chips."""

CHIP_SOURCE = (
    "feed per tooth 0.1 to 0.5 mm for bits of 6 to 12 mm, hardwood less than softwood less than "
    "board: common practice, from memory"
)

SPECIES_SOURCE = "specific gravity at 12 % moisture: USDA Wood Handbook, FPL-GTR-190, ch. 5"


@dataclass(frozen=True, slots=True)
class Shown:
    """A figure with the value that a shop has for it, and whether that is the usual one."""

    figure: Figure
    value: object
    usual: bool

    @property
    def source(self) -> str:
        """Where the value comes from."""
        return f"{self.figure.source} ({self.figure.mark})" if self.usual else "your shop file"


def figures_of(shop: Shop) -> Iterator[Shown]:
    """Every figure of a shop with its value."""
    usual = USUAL_SHOPS[shop.machine.kind]
    for figure in FIGURES:
        own, other = (each.machine if figure.table == "machine" else each for each in (shop, usual))
        value, common = getattr(own, figure.key), getattr(other, figure.key)
        yield Shown(figure, value, value == common and figure.key != "kind")


def source_of(species: Species) -> str:
    """Where a wood's gravity comes from."""
    if species.mark == "shop":
        return "your shop file"
    if species.mark == "memory":
        return "from memory"
    return f"{SPECIES_SOURCE} ({species.mark})"


def missing_figures() -> set[str]:
    """Fields of a shop and its machine that no figure tells about: none, but for the lists."""
    told = {(figure.table == "machine", figure.key) for figure in FIGURES}
    shop = {(False, each.name) for each in fields(Shop)}
    machine = {(True, each.name) for each in fields(type(USUAL_SHOPS["cnc"].machine))}
    lists = {(False, key) for key in ("machine", "species", "chips", "name")}
    return {key for _, key in (shop | machine) - told - lists}
