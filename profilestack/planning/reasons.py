"""Why a step is there, in the words of the shop."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from profilestack.planning.depths import Depths, Limits
from profilestack.planning.said import Said
from profilestack.planning.tasks import Task

FULL = 0.8
"""A cut of this share of the largest section is bound by it."""

ALL_BUT_LAST = "all but the last light cut"
"""Why the first of two depths is as deep as it is."""


def depth_reason(task: Task, depths: Depths, k: int, limits: Limits, light: bool) -> Said:
    """Why depth ``k`` of a task is as deep as it is."""
    count, relief = len(depths.depths), task.single.relief
    last = k == count - 1 and not relief
    if count == 1:
        if task.one_depth and not light:
            return Said("at full depth, as the bit is wider below than above")
        if not depths.kept:
            return Said("at full depth, as wood stands above the edge")
        return Said("one light cut" if last and light else "one depth takes it")
    if last:
        deeper = task.single.depth - depths.depths[k - 1]
        return Said("the last one light, {0} deeper, without a stop on the way", (deeper,))
    if count == 2 and not relief:
        return Said(ALL_BUT_LAST)
    if depths.section > FULL * limits.section:
        return Said("one travel takes {0} at most on this machine", areas=(limits.section,))
    return Said("at most {0} at once with a bit {1} across", (limits.height, task.diameter))


def purpose_of(planned: Sequence[Task], number: int) -> str:
    """What the pass ``number`` of the planned order is for: its note, or what it makes room for."""
    task = planned[number - 1]
    if not task.single.relief:
        return task.single.note.split(";")[0].strip() or "makes its part of the profile"
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
