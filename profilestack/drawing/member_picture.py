"""Pictures of the classical members, and of the ways a column of them may lie."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from profilestack.drawing.drawing import (
    Drawing,
    Lines,
    Mark,
    area,
    arrow_head,
    dimension,
    line,
    moved,
    reach_of,
    words,
)
from profilestack.drawing.palette import (
    BODY,
    HEADING,
    LEADER_PEN,
    PAPER,
    QUIET_INK,
    SMALL,
    TARGET,
    TARGET_PEN,
    WOOD_EDGE,
    WOOD_LOOK,
    Look,
    Pen,
)
from profilestack.drawing.picture import picture_bytes
from profilestack.geometry.extent import box_of
from profilestack.geometry.motion import move
from profilestack.geometry.path import Point, Points
from profilestack.targets.member_shapes import MEMBERS, Measures
from profilestack.targets.members import LIES, Member, MemberColumn

CHORD = 0.01
"""Curves are drawn so true [mm]."""

STUB = 4.0
BEHIND = 7.0
"""A member is shown between fillets so high, on wood so thick behind its least projection [mm]."""

GAP = 12.0
MARGIN = 6.0
"""Paper between the pieces and around them [mm]."""

BED_PEN = Pen(WOOD_EDGE, 0.35, (2.0, 1.0))


def member_pictures() -> dict[str, bytes]:
    """All pictures as SVG files, by name: one for each member, and "lies.svg"."""
    drawings = {word: member_drawing(word) for word in MEMBERS} | {"lies": lies_drawing()}
    return {f"{name}.svg": picture_bytes(drawing, "svg") for name, drawing in drawings.items()}


def member_drawing(word: str) -> Drawing:
    """One member in all its variants and, where it can be turned, upside down; 1:1."""
    pieces = [_member_marks(member) for member in _shown(word)]
    return _in_a_row(pieces, f"{word}: {MEMBERS[word].about}")


def lies_drawing() -> Drawing:
    """One crown in each lie: the bed, where the path starts, and which way it runs; 1:1."""
    crown = (
        Member("fillet", 4.0),
        Member("cyma-recta", 16.0, 16.0),
        Member("setback", projection=2.0),
        Member("fillet", 5.0),
    )
    columns = [MemberColumn(crown, lie=lie, back=4.0) for lie in LIES]
    return _in_a_row([_lie_marks(column) for column in columns], "The same members in each lie")


def _shown(word: str) -> Iterator[Member]:
    """The member as its samples have it, then the first of them the other way up."""
    shape = MEMBERS[word]
    samples = list(shape.samples)
    if shape.signed and samples[0].projection:
        samples.append(replace(samples[0], projection=-samples[0].projection))
    for given in samples:
        yield _member(word, given)


def _member(word: str, given: Measures) -> Member:
    return Member(word, given.height, given.projection, given.variant, given.width, given.depth)


def _member_marks(member: Member) -> list[Mark]:
    """A member between two fillets, its box and its measures."""
    stub = Member("fillet", STUB)
    column = MemberColumn((stub, member, stub), back=BEHIND)
    path = column.path()
    face = path.flatten(CHORD)
    marks = area((np.vstack((face, [(0.0, 0.0)])),), WOOD_LOOK)
    right = box_of(path).right
    # the level top ends where the upper fillet, and so the member, stands
    start: Point = (path.steps[0].to[0], STUB + member.fall)
    own = move(*start).apply_to(member.trace())
    marks.append(Lines((own.flatten(CHORD),), TARGET_PEN))
    marks += _measures(member, start, right)
    middle = right / 2.0
    marks.append(words((middle, -9.0), member.variant or member.member, BODY, anchor="middle"))
    marks.append(words((middle, -12.5), _numbers(member), SMALL, QUIET_INK, anchor="middle"))
    return marks


def _measures(member: Member, start: Point, right: float) -> list[Mark]:
    """Height beside the member and its move below it, with thin lines to both ends."""
    x0, z0 = start
    x1, z1 = x0 - member.step, z0 - member.fall
    marks: list[Mark] = []
    beside = right + 4.0
    if member.fall > 0.0:
        marks += [line((x, z), (beside + 1.0, z), pen=LEADER_PEN) for x, z in ((x0, z0), (x1, z1))]
        marks += dimension((beside, z1), (beside, z0), f"{member.fall:g}")
    far = x0 + _bulge(member) if member.step == 0.0 else x1
    if abs(far - x0) > 1e-9:
        below = -3.5
        marks += [line((x, below - 1.0), (x, min(z0, z1)), pen=LEADER_PEN) for x in (x0, far)]
        marks += dimension((min(x0, far), below), (max(x0, far), below), f"{abs(far - x0):.4g}")
    return marks


def _bulge(member: Member) -> float:
    """How far a member whose ends are in line stands out, or goes in (below 0) [mm]."""
    box = box_of(member.trace())
    return box.right if box.right > 0.0 else box.left


def _numbers(member: Member) -> str:
    """What a file says of the member, in words."""
    given = (
        ("height", member.height),
        ("projection", member.projection),
        ("width", member.width),
        ("depth", member.depth),
    )
    return ", ".join(f"{key} {value:g}" for key, value in given if value is not None)


def _lie_marks(column: MemberColumn) -> list[Mark]:
    """A laid column on its bed, its path with start and sense."""
    path = column.path()
    flat = path.flatten(CHORD)
    width, _ = column.box()
    closing: list[Point] = [] if column.lie == "sprung" else [(0.0, 0.0)]
    marks = area((np.vstack((flat, *([closing] if closing else []))),), WOOD_LOOK)
    marks.append(line((-3.0, 0.0), (width + 3.0, 0.0), pen=BED_PEN))
    marks.append(Lines((flat,), TARGET_PEN))
    marks += _start_mark(flat)
    marks.append(words((width / 2.0, -6.5), column.lie, HEADING, anchor="middle"))
    marks.append(words((-3.0, -2.8), "bed", SMALL, QUIET_INK))
    return marks


def _start_mark(flat: Points) -> list[Mark]:
    """A ring where the path starts and a head where it ends."""
    turns = np.linspace(0.0, 2.0 * np.pi, 24, endpoint=False)
    ring = np.column_stack((np.cos(turns), np.sin(turns))) * 0.9 + flat[0]
    along = flat[-1] - flat[-2]
    tip = (float(flat[-1][0]), float(flat[-1][1]))
    return [
        *area((ring,), Look(PAPER, (), Pen(TARGET, 0.35))),
        arrow_head(tip, (float(along[0]), float(along[1])), 2.6, TARGET),
    ]


def _in_a_row(pieces: list[list[Mark]], title: str) -> Drawing:
    """Pieces side by side on one base line, on a sheet that just holds them."""
    row: list[Mark] = []
    across = MARGIN
    for piece in pieces:
        left, _, right, _ = reach_of(piece)
        row += moved(piece, across - left, 0.0)
        across += right - left + GAP
    _, bottom, right, top = reach_of(row)
    marks = moved(row, 0.0, MARGIN - bottom)
    return Drawing(
        right + MARGIN, top - bottom + 2.0 * MARGIN, tuple(marks), title=title, paper=PAPER
    )
