"""Where rings on an axis are seen whole. Plain numbers: it is asked in every frame of a drag."""

from __future__ import annotations

from collections.abc import Iterator

Spot = tuple[float, float]
"""A place on the screen [px], or a way on it."""

Box = tuple[float, float, float, float]
"""Left, top, right, bottom [px]."""

APART = 2.0
"""Between two rings on one axis, and between a ring and the tip of its bit [px]."""


def rings_along(
    begin: Spot, tip: Spot, way: Spot, size: float, rows: int, room: Box
) -> Iterator[tuple[Spot, Spot]]:
    """Up to so many places for a ring of that ``size``: on the axis, and the ring's middle.

    An axis leads from the ``tip`` of a bit along ``way``; the first ring stands at ``begin``, or
    where the axis leaves the ``room``; the next ones farther out, then farther in. No ring is cut
    off by the room's edge, and none covers the tip; an axis that is out of sight has none.
    """
    half, step = size / 2.0, size + APART
    left, top, right, bottom = room
    inner = (left + half, top + half, right - half, bottom - half)
    if inner[0] > inner[2] or inner[1] > inner[3]:
        return
    first: Spot | None = begin
    if not _is_in(begin, inner):
        first = _last_inside(tip, begin, inner) or _last_inside(tip, begin, room)
    if first is None:
        return
    count = 0
    for sense, begins in ((1, 0), (-1, 1)):
        for row in range(begins, rows - count + begins):
            away = sense * row * step
            x, y = first[0] + away * way[0], first[1] + away * way[1]
            over_tip = (x - tip[0]) * way[0] + (y - tip[1]) * way[1]
            if over_tip < half + APART or not _is_in((x, y), room):
                break
            count += 1
            yield (x, y), (min(max(x, inner[0]), inner[2]), min(max(y, inner[1]), inner[3]))


def _is_in(spot: Spot, box: Box) -> bool:
    return box[0] <= spot[0] <= box[2] and box[1] <= spot[1] <= box[3]


def _last_inside(begin: Spot, end: Spot, box: Box) -> Spot | None:
    """The last place inside ``box`` on the way from ``begin`` to ``end``; None: it passes by."""
    first, last = 0.0, 1.0
    for k in (0, 1):
        far = end[k] - begin[k]
        low, high = box[k] - begin[k], box[k + 2] - begin[k]
        if far == 0.0:
            if low > 0.0 or high < 0.0:
                return None
            continue
        enters, leaves = sorted((low / far, high / far))
        first, last = max(first, enters), min(last, leaves)
    if first > last:
        return None
    # one coordinate may be off the edge by a rounding
    x, y = (begin[k] + last * (end[k] - begin[k]) for k in (0, 1))
    return min(max(x, box[0]), box[2]), min(max(y, box[1]), box[3])
