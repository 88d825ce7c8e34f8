"""Cutting a stack: the section after every stroke, and what each pass removes.

A stroke is one travel of a bit along the part. A pass has one, or more where it repeats across
(``count``) or around (``copies`` of its setup).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import Bit
from profilestack.bits.edge import has_undercut
from profilestack.cutting.stroke import Stroke, strokes_of
from profilestack.errors import InputError, Problem, nearest_word
from profilestack.geometry.region import (
    Region,
    as_region,
    moments_of,
    polygon_from_points,
    subtract,
)
from profilestack.stack import Pass, Stack, StraightRun, TurnedRun
from profilestack.stack.blank import Blank

CHORD = 0.001
"""Arcs are flattened so that no point is off by more than this [mm]."""

MOST_STROKES = 5000


@dataclass(frozen=True, slots=True, eq=False)
class PassCut:
    """What one pass did.

    ``number`` counts the document's passes from 1, those that are off too. ``first`` and ``last``
    are the places of its strokes in :attr:`Cut.strokes` (last exclusive).
    """

    number: int
    cut: Pass
    bit: Bit
    first: int
    last: int
    removed_area: float
    removed_volume: float


@dataclass(frozen=True, slots=True, eq=False)
class Cut:
    """A stack, cut: areas [mm2], volumes [mm3], coordinates [mm] in the section plane.

    ``sections[k]`` is the section before stroke k; the last one is the finished section.
    """

    stack: Stack
    chord: float
    strokes: tuple[Stroke, ...]
    sections: tuple[BaseGeometry, ...]
    passes: tuple[PassCut, ...]
    volume: float

    @property
    def blank(self) -> Region:
        """The section before any pass."""
        return as_region(self.sections[0])

    @property
    def section(self) -> Region:
        """The section that all passes leave; loose pieces stay in it."""
        return as_region(self.sections[-1])

    def section_after(self, number: int) -> Region:
        """The section after the pass of that number (0: the blank)."""
        done = [single.last for single in self.passes if single.number <= number]
        return as_region(self.sections[max(done, default=0)])

    def removed_by(self, single: PassCut) -> Region:
        """The region that one pass removes."""
        before, after = self.sections[single.first], self.sections[single.last]
        return as_region(subtract(before, after, f"pass {single.number}"))


def cut_stack(
    stack: Stack, bits: Mapping[str, Bit], chord: float = CHORD, before: Cut | None = None
) -> Cut:
    """Cut a stack's passes in order.

    Args:
        stack: the document; passes that are not ``on`` are left out.
        bits: every bit by its id.
        chord: largest error of a flattened arc [mm].
        before: a cut of nearly the same stack; as far as strokes are the same, its sections are
            taken over and not cut again.

    Raises:
        InputError: a bit that nobody knows, or one that this run cannot take.
    """
    _refuse(stack, bits, chord)
    strokes = tuple(
        stroke
        for number, single in enumerate(stack.passes, 1)
        if single.on
        for stroke in strokes_of(stack, single, number, bits[single.bit], chord)
    )
    blank = _blank_region(stack.blank, chord)
    sections = _sections(blank, strokes, before)
    areas = [section.area for section in sections]
    volumes, volume = _volumes(stack, blank, strokes, sections, areas)
    passes, at = [], 0
    for number, single in enumerate(stack.passes, 1):
        if not single.on:
            continue
        first = at
        while at < len(strokes) and strokes[at].number == number:
            at += 1
        removed = areas[first] - areas[at]
        taken = math.fsum(volumes[first:at])
        passes.append(PassCut(number, single, bits[single.bit], first, at, removed, taken))
    return Cut(stack, chord, strokes, tuple(sections), tuple(passes), volume)


@lru_cache(maxsize=64)
def _blank_region(blank: Blank, chord: float) -> BaseGeometry:
    return polygon_from_points(blank.outline().flatten(chord))


def _sections(
    blank: BaseGeometry, strokes: tuple[Stroke, ...], before: Cut | None = None
) -> list[BaseGeometry]:
    sections = [blank]
    if before is not None and before.sections[0] is blank:
        pairs = zip(strokes, before.strokes, strict=False)
        same = itertools.takewhile(lambda pair: pair[0].region is pair[1].region, pairs)
        sections = list(before.sections[: 1 + sum(1 for _ in same)])
    for stroke in strokes[len(sections) - 1 :]:
        what = f"pass {stroke.number} (bit {stroke.bit.id})"
        sections.append(subtract(sections[-1], stroke.region, what))
    return sections


def _volumes(
    stack: Stack,
    blank: BaseGeometry,
    strokes: tuple[Stroke, ...],
    sections: list[BaseGeometry],
    areas: list[float],
) -> tuple[list[float], float]:
    """Volume removed by each stroke and left at the end [mm3]."""
    run = stack.run
    if isinstance(run, StraightRun):
        if any(stroke.span is not None for stroke in strokes):
            return _stopped_volumes(run, blank, strokes)
        removed = [(a - b) * run.length for a, b in itertools.pairwise(areas)]
        return removed, areas[-1] * run.length
    left = [
        run.volume(area, moments_of(section)) for area, section in zip(areas, sections, strict=True)
    ]
    return [a - b for a, b in itertools.pairwise(left)], left[-1]


def _stopped_volumes(
    run: StraightRun, blank: BaseGeometry, strokes: tuple[Stroke, ...]
) -> tuple[list[float], float]:
    """Volumes where some passes stop short: the part in lengths between which nothing changes."""
    marks = {0.0, run.length}
    for stroke in strokes:
        marks.update(stroke.span or ())
    places = sorted(marks)
    removed = [0.0] * len(strokes)
    left = 0.0
    for begin, end in itertools.pairwise(places):
        middle = (begin + end) / 2.0
        active = [k for k, stroke in enumerate(strokes) if stroke.reaches(middle)]
        sections = _sections(blank, tuple(strokes[k] for k in active))
        for k, before, after in zip(active, sections, sections[1:], strict=False):
            removed[k] += (before.area - after.area) * (end - begin)
        left += sections[-1].area * (end - begin)
    return removed, left


def _refuse(stack: Stack, bits: Mapping[str, Bit], chord: float) -> None:
    found = []
    if not 1e-6 <= chord <= 1.0:
        found.append(Problem("chord", f"{chord!r} is impossible", "0.000001 to 1 mm"))
    total = 0
    for number, single in enumerate(stack.passes, 1):
        if not single.on:
            continue
        total += single.count * stack.setup(single.setup).copies
        where = f"pass[{number}].bit"
        if single.bit not in bits:
            hint = nearest_word(single.bit, bits)
            found.append(Problem(where, f"no bit is called {single.bit!r}", "a known bit", hint))
        elif isinstance(stack.run, TurnedRun) and has_undercut(bits[single.bit]):
            text = f"{single.bit!r} narrows above its tip"
            expected = "a bit without undercut: turned work is cut from above, all the way round"
            found.append(Problem(where, text, expected))
    if total > MOST_STROKES:
        text = f"counts and copies make {total} strokes"
        found.append(Problem("pass", text, f"{MOST_STROKES} at most"))
    if found:
        raise InputError(found)
