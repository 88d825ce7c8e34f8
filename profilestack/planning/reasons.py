"""Why a step is there, in the words of the shop."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from profilestack.planning.depths import Depths, Limits
from profilestack.planning.said import Said, literal
from profilestack.planning.tasks import Task

FULL = 0.8
"""A cut of this share of the largest section is bound by it."""


def reason_for(
    planned: Sequence[Task], number: int, depths: Depths, k: int, limits: Limits, light: bool
) -> Said:
    """The reason of depth ``k`` of the pass ``number`` of the planned order."""
    task = planned[number - 1]
    purpose = _purpose(planned, number)
    count = len(depths.depths)
    if count == 1:
        if task.one_depth and not light:
            words = f"{purpose}; at full depth, as the bit is wider below than above"
            return Said(words)
        how = "one light cut" if light and not task.single.relief else "in one depth"
        return Said(f"{purpose}; {how}")
    last = k == count - 1
    if last and not task.single.relief:
        below = task.single.depth - depths.depths[k - 1]
        words = "last cut, light: {0} deeper, full length without a stop"
        return Said(f"{purpose}; {words}", (below,))
    if count == 2 and not task.single.relief:
        words = "leaves {0} for the last light cut"
        return Said(f"{purpose}; {words}", (task.single.depth - depths.depths[k],))
    rough = count if task.single.relief else count - 1
    place = f"{k + 1} of {rough} rough depths"
    if depths.section > FULL * limits.section:
        words = f"{place}, as one travel takes {limits.section:.0f} mm2 at most here"
        return Said(f"{purpose}; {words}")
    words = f"{place}, at most {{0}} at once with a bit {{1}} across"
    return Said(f"{purpose}; {words}", (limits.height, task.diameter))


def _purpose(planned: Sequence[Task], number: int) -> str:
    """What the pass is for: its note, or what it makes room for."""
    task = planned[number - 1]
    if not task.single.relief:
        return literal(task.single.note.split(";")[0].strip()) or "makes its part of the profile"
    helped = [
        str(later)
        for later, other in enumerate(planned, 1)
        if later > number
        and not other.single.relief
        and other.single.setup == task.single.setup
        and (
            shapely.intersects(other.swept, task.swept)
            or shapely.intersects(other.blocked, task.swept)
        )
    ]
    if not helped:
        return "rough out"
    listed = helped[0] if len(helped) == 1 else f"{', '.join(helped[:-1])} and {helped[-1]}"
    what = "pass" if len(helped) == 1 else "passes"
    return f"rough out, for {what} {listed}"
