"""How a column of members lies on the bed: which way it is turned, and where its path runs.

The face comes as the members trace it, from the top of the installed molding down, the wood on
its right hand. Each lie turns it, adds the level and plumb sides that the blank does not have of
itself, and ends it on the outline of the blank that just holds it (its lower left at the origin).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from profilestack.errors import InputError, Problem
from profilestack.geometry.extent import box_of, reach
from profilestack.geometry.motion import direction, mirror, move, turn
from profilestack.geometry.path import SAME_POINT, Line, LineTo, Path

THIN = 1e-3
"""Wood thinner than this is none [mm]."""


@dataclass(frozen=True, slots=True)
class Body:
    """What stands behind a face: ``back`` [mm], and for a sprung one ``spring`` [deg] and
    ``bottom`` [mm]: see :class:`MemberColumn`.
    """

    back: float
    spring: float
    bottom: float


def upright(face: Path, body: Body) -> Path:
    """As installed: from the wall along the level top, down the face to the bed."""
    stood = _stood(face, body.back)
    return _to_bed(_from_wall(stood))


def head_down(face: Path, body: Body) -> Path:
    """Turned over, wall at the left: along the molding's bottom, down the face to its top."""
    stood = _stood(face, body.back)
    flip = mirror().then(turn(180.0)).then(move(0.0, box_of(stood).top))
    over = flip.apply_to(stood).reversed()
    return _to_bed(_from_wall(over))


def flat(face: Path, body: Body) -> Path:
    """On its back, top at the left: from the bed over the level top, face and bottom to the bed."""
    stood = _stood(face, body.back)
    whole = joined_level(_from_wall(stood), Path(stood.end).line((0.0, stood.end[1])))
    return turn(90.0).then(move(box_of(stood).top, 0.0)).apply_to(whole)


def sprung(face: Path, body: Body) -> Path:
    """On its sloping back, top at the left: from the bed round the section to the bed.

    The wall stands ``bottom`` behind the face where that is nearest to it; the back slopes at
    ``spring`` to the wall, ``back`` behind the face where that is deepest, square to the slope.

    Raises:
        InputError: the back is so thick that the level top meets the wall before the slope, or
            without a bottom the face lies on the wall above its lower end.
    """
    cosine, sine = direction(body.spring)
    up, out = (sine, cosine), (cosine, -sine)
    stood = _stood(face, body.bottom)
    if body.bottom < THIN and stood.flatten(THIN)[:-1, 0].min() < THIN:
        text = f"{body.bottom:g} leaves no wood between the wall and a member above the lower end"
        key = "back" if body.bottom == body.back else "bottom"
        raise InputError(Problem(key, text, "a width above 0"))
    bed = -reach(stood, (-out[0], -out[1])) - body.back
    high, low = stood.start[1], 0.0
    top_back = ((high * sine + bed) / cosine, high)
    if top_back[0] < 0.0:
        most = body.back + high * sine + bed
        expected = f"at most {most:.3f} mm behind a bottom of {body.bottom:g} mm"
        raise InputError(Problem("back", f"{body.back:g} leaves no sloping back", expected))
    whole = joined_level(Path(top_back).line(stood.start), stood)
    if bed < 0.0:
        foot = Path(stood.end).line((0.0, low))
        whole = joined_level(whole, foot).joined(Path((0.0, -bed / sine)))
    else:
        whole = joined_level(whole, Path(stood.end).line((bed / cosine, low)))
    lay = turn(90.0 + body.spring).then(move(reach(whole, up), -bed))
    return _on_bed(lay.apply_to(whole))


LIES: dict[str, Callable[[Path, Body], Path]] = {
    "upright": upright,
    "head-down": head_down,
    "flat": flat,
    "sprung": sprung,
}
"""How a column may lie: the word in files, and what it does."""


def joined_level(path: Path, piece: Path) -> Path:
    """The path and the piece after it, without the level line that both walk, to and fro."""
    if not (path.steps and piece.steps):
        return path.joined(piece)
    before, after = path.segments[-1], piece.segments[0]
    if isinstance(before, Line) and isinstance(after, Line):
        (x0, z0), (x1, z1), (x2, z2) = before.start, before.end, after.end
        if z0 == z1 == z2 and (x1 - x0) * (x2 - x1) < 0.0:
            rest = Path((x0, z0)).joined(Path((x2, z2), piece.steps[1:]))
            return joined_level(Path(path.start, path.steps[:-1]), rest)
    return path.joined(piece)


def _from_wall(face: Path) -> Path:
    """The face, and before it the level line from the wall to where it starts."""
    top = Path((0.0, face.start[1])).joined(Path(face.start))
    return joined_level(top, face)


def _to_bed(path: Path) -> Path:
    """The path down to the bed, without a level step along it."""
    steps = path.steps
    for piece in reversed(path.segments):
        if not isinstance(piece, Line) or max(piece.start[1], piece.end[1]) > SAME_POINT:
            break
        steps = steps[:-1]
    down = Path(path.start, steps)
    return down.joined(Path((down.end[0], 0.0)))


def _stood(face: Path, behind: float) -> Path:
    """The face as installed: its lowest point at z = 0, its least projection at ``behind``."""
    box = box_of(face)
    return move(behind - box.left, -box.bottom).apply_to(face)


def _on_bed(path: Path) -> Path:
    """The path with both its ends at z = 0 exactly: straight sides that miss it by rounding."""
    *steps, last = path.steps
    return Path((path.start[0], 0.0), (*steps, LineTo((last.to[0], 0.0))))
