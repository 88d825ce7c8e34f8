"""What a bit is good for, in words."""

from __future__ import annotations

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height
from profilestack.bits.words import kind_of, size_text
from profilestack.jobs.reach import BitReach
from profilestack.units import format_length


def good_for(reach: BitReach, units: str) -> tuple[str, ...]:
    """What the bit is good for on the target, a sentence a line."""
    if not reach.reaches:
        return (f"Reaches nothing here: {reach.why}.",)
    lines = [
        f"Reaches {_percent(reach.share)} of the wanted profile within the tolerance, "
        f"{_percent(reach.best_pass)} in its best pass."
    ]
    fits = dict.fromkeys(
        f"the {arch.said} R {format_length(arch.radius, units)}" for arch in reach.fits
    )
    if fits:
        lines.append(f"One pass follows {' and '.join(fits)}.")
    small, large = reach.smallest_hollow, reach.largest_hollow
    if small is not None and large is not None:
        radii = dict.fromkeys(format_length(radius, units) for radius in (small, large))
        lines.append(f"Follows hollows of R {' to '.join(radii)}.")
    if reach.of_corners:
        lines.append(f"Reaches into {reach.corners} of {reach.of_corners} inside corners.")
    return tuple(lines)


def bit_said(bit: Bit, units: str) -> tuple[str, ...]:
    """The bit in a few lines: name, size, edge and reach, and what it does not do."""

    def said(mm: float) -> str:
        return format_length(mm, units)

    lines = [
        bit.name,
        f"{kind_of(bit)}, {size_text(bit, units)}",
        f"edge {said(edge_height(bit))}, tip to nut {said(bit.reach)}, shank {said(bit.shank)}",
    ]
    if bit.measured is not None:
        lines.append(f"measured {said(bit.measured)}")
    if not bit.plunges:
        lines.append("does not plunge: enter from the end")
    if bit.note:
        lines.append(bit.note)
    return tuple(lines)


def _percent(share: float) -> str:
    percent = 100.0 * share
    return f"{percent:.0f} %" if percent >= 1.0 or percent == 0.0 else "under 1 %"
