"""What of a planned stack the machine cannot hold, reach or let pass."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from profilestack.bits.bit import Bit
from profilestack.cutting.caution import Caution, Severity
from profilestack.cutting.cut import Cut, PassCut
from profilestack.planning.feeds import LONG, stick_out
from profilestack.planning.minutes import length_of
from profilestack.planning.shop import Shop
from profilestack.stack import TurnedRun

SAME_SHANK = 0.03
"""A collet holds shanks that differ from its bore by so much at most [mm]."""

NEAR_SHANK = 0.8
"""Within so much of the bore a wrong shank seems to fit, and lets go [mm]."""


def machine_cautions(cut: Cut, shop: Shop) -> Iterator[Caution]:
    """Collets, stick-out, hood, travels and clearance, for the planned stack's cut."""
    seen: set[str] = set()
    for single in cut.passes:
        if single.bit.id not in seen:
            seen.add(single.bit.id)
            yield from _collet(single, shop)
            yield from _reach(single)
    if shop.machine.hood_diameter > 0.0:
        yield from _hood(cut, shop)
    yield from _travels(cut, shop)


def _collet(single: PassCut, shop: Shop) -> Iterator[Caution]:
    bores, shank = shop.machine.collets, single.bit.shank
    nearest = min(bores, key=lambda bore: abs(bore - shank))
    if abs(nearest - shank) <= SAME_SHANK:
        return
    lengths = (shank, nearest)
    words = _WRONG_COLLET if abs(nearest - shank) <= NEAR_SHANK else _NO_COLLET
    yield Caution("no-collet", "stop", single.number, words, lengths)


_WRONG_COLLET = (
    "There is no collet for a {0} shank. It seems to go into the {1} one, which lets go of it: "
    "never use that; get the right collet, or a bit with another shank."
)
_NO_COLLET = (
    "There is no collet for a {0} shank, the nearest is {1}: get one, or a bit with another shank."
)


def _reach(single: PassCut) -> Iterator[Caution]:
    bit: Bit = single.bit
    if stick_out(bit) > LONG:
        lengths = (bit.reach, bit.shank)
        yield Caution("long-reach", "note", single.number, _LONG, lengths)


_LONG = (
    "The bit hangs out {0}, more than five times its {1} shank: half the feed and 18,000 rpm at "
    "most are planned (common practice); push it in further where the cut lets you."
)


def _hood(cut: Cut, shop: Shop) -> Iterator[Caution]:
    """Where the foot of the dust hood would run into standing stock, once for all passes."""
    half, low = shop.machine.hood_diameter / 2.0, shop.machine.hood_height
    numbers = []
    for single in cut.passes:
        stroke = cut.strokes[single.first]
        if stroke.tip + low >= stroke.lie.height - 0.01:
            continue
        high = stroke.lie.height - stroke.tip + 1.0
        corners = np.array(((-half, low), (half, low), (half, high), (-half, high)))
        box = shapely.polygons(stroke.to_section(corners))
        if shapely.intersects(cut.sections[single.first + 1], box):
            numbers.append(single.number)
    if numbers:
        told = ", ".join(map(str, numbers))
        words = f"{_HOOD} (pass{'es' if len(numbers) > 1 else ''} {told})."
        yield Caution("hood-rubs", "note", None, words, (low, 2.0 * half))


_HOOD = "The dust hood's foot ({1} across, {0} over the tip) would meet standing stock: raise it"


def _travels(cut: Cut, shop: Shop) -> Iterator[Caution]:
    machine = shop.machine
    heights = {stroke.setup.name: stroke.lie for stroke in cut.strokes}
    below = machine.spindle_below
    for name, lie in heights.items():
        told = name.replace("{", "{{").replace("}", "}}")
        if not below and lie.height + machine.safe_height > machine.clearance:
            lengths = (lie.height, machine.safe_height, machine.clearance)
            grave = lie.height > machine.clearance
            severity: Severity = "stop" if grave else "warn"
            yield Caution("too-large", severity, None, _HIGH.format(told), lengths)
        if not below and lie.width > machine.width:
            words = _WIDE.format(told)
            yield Caution("too-large", "stop", None, words, (lie.width, machine.width))
    length = length_of(cut)
    if not below and not isinstance(cut.stack.run, TurnedRun) and length > machine.length:
        yield Caution("too-large", "stop", None, _LENGTH, (length, machine.length))
    deepest = max(single.cut.depth for single in cut.passes)
    if below and deepest > machine.travel:
        number = next(each.number for each in cut.passes if each.cut.depth == deepest)
        yield Caution("too-large", "stop", number, _RISE, (deepest, machine.travel))


_HIGH = (
    "In setup {!r} the blank stands {{0}} high; with {{1}} of safe height over it that is more "
    "than the {{2}} under the gantry: lay it lower, or lower the bed."
)
_WIDE = "In setup {!r} the blank lies {{0}} wide; the machine travels {{1}} across."
_LENGTH = (
    "The part is {0} long; the machine travels {1} along it: cut it in lengths, or on another "
    "machine."
)
_RISE = "The bit would stand {0} above the table; it rises {1} at most."
