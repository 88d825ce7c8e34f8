"""Where passes stand after a change of the stack: what is chosen or looked at follows them."""

from __future__ import annotations

from collections.abc import Iterable

from profilestack.stack import Stack


def followed(before: Stack, after: Stack, places: Iterable[int]) -> tuple[int, ...]:
    """The places (from 0) of the same passes after a change, in order; those gone are left out.

    A pass is the same where it is the very same value; one that was edited keeps its place, where
    the change brought or took no other.
    """
    found: set[int] = set()
    where = {id(single): place for place, single in enumerate(after.passes)}
    is_edit = len(before.passes) == len(after.passes)
    for place in places:
        if place >= len(before.passes):
            continue
        single = before.passes[place]
        stays = place < len(after.passes) and after.passes[place] is single
        if stays or (is_edit and id(single) not in where):
            found.add(place)
        elif id(single) in where:
            found.add(where[id(single)])
    return tuple(sorted(found))


def moment_followed(before: Stack, after: Stack, moment: int) -> int | None:
    """After how many passes the blank is looked at still; None: when all are cut.

    The last pass that was cut at that moment is the last one still; where it is gone, as many are
    cut as before.
    """
    last = followed(before, after, (moment - 1,)) if moment > 0 else ()
    moment = last[0] + 1 if last else moment
    return moment if moment <= len(after.passes) else None
