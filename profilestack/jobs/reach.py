"""What each bit is good for on a target: where it reaches, which arcs it follows, and why not.

The wood that may go and the places that a bit can stand are the finder's; here each bit is looked
at alone, with as many passes as it likes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import numpy.typing as npt
import shapely

from profilestack.bits.bit import Bit
from profilestack.bits.edge import has_undercut
from profilestack.bits.shapes.core_box import CoreBox
from profilestack.bits.shapes.taper_ball import TaperBall
from profilestack.cutting.cut import CHORD
from profilestack.cutting.wanted import wanted_in
from profilestack.errors import Cancelled, InputError
from profilestack.finding.bench import Bench, aim_at, lay
from profilestack.finding.candidates import candidates_of
from profilestack.finding.coverage import reach
from profilestack.finding.problem import axis_limits
from profilestack.finding.request import RESOLUTIONS
from profilestack.jobs.reach_places import Arch, Places, places_of
from profilestack.progress import SILENT, Progress
from profilestack.stack import FACE, Stack, TurnedRun

Booleans = npt.NDArray[np.bool_]

LEAST_STRETCH = 1.5
"""A bit reaches somewhere where it follows so much of the target [mm], or all of a shorter piece.

An arris is touched by every bit: that alone is no work for it.
"""

LONG = 300.0
"""An edge as long as this [mm] would reach everywhere."""

SIMPLER = 0.1
"""The wood that has to stay may be off by this share of the overcut allowed."""

LEAST_TOLERANCE = 0.02
"""Tolerances below this [mm] are looked at as this: points are not laid closer."""


@dataclass(frozen=True, slots=True)
class ReachRequest:
    """Bits to be looked at on the target of a stack; its own passes do not matter."""

    stack: Stack
    bits: tuple[Bit, ...]


@dataclass(frozen=True, slots=True)
class BitReach:
    """What one bit is good for.

    ``share`` (0 to 1) of the target's length is reached within the tolerance, in as many passes
    as it takes, ``best_pass`` by the best single one. ``fits``: the arcs followed from end to end
    in one pass; ``follows``: those followed in any number of passes. ``corners``: how many of the
    target's ``of_corners`` inside corners are reached. Where the bit ``reaches`` nothing, ``why``
    says what hinders it.
    """

    share: float
    best_pass: float
    reaches: bool
    fits: tuple[Arch, ...] = ()
    follows: tuple[Arch, ...] = ()
    corners: int = 0
    of_corners: int = 0
    why: str = ""

    @property
    def smallest_hollow(self) -> float | None:
        """The smallest radius among the hollows that it follows [mm]; None where there is none."""
        return min((arch.radius for arch in self.follows if arch.hollow), default=None)

    @property
    def largest_hollow(self) -> float | None:
        """The largest radius among the hollows that it follows [mm]; None where there is none."""
        return max((arch.radius for arch in self.follows if arch.hollow), default=None)

    @property
    def largest_fit(self) -> Arch | None:
        """The largest arc that one pass follows from end to end; None where there is none."""
        return max(self.fits, key=lambda arch: arch.radius, default=None)


def asked_by(stack: Stack) -> tuple[object, ...]:
    """All of a stack that matters here: while it is equal, so is what bits are good for."""
    return (stack.target, stack.blank, stack.run, stack.setups, stack.tolerance, stack.units)


def reach_of_bits(request: ReachRequest, progress: Progress = SILENT) -> dict[str, BitReach]:
    """What each bit is good for, by its id; nothing without a target.

    Raises:
        InputError: a target that does not fit its blank.
        Cancelled: the progress was stopped.
    """
    if request.stack.target is None:
        return {}
    ground = _ground(replace(request.stack, title="", passes=(), bits=()))
    found = {}
    for number, bit in enumerate(request.bits):
        if progress.is_stopped():
            raise Cancelled
        found[bit.id] = _looked_at(bit, ground)
        progress.report((number + 1) / len(request.bits), bit.name)
    return found


@dataclass(frozen=True, slots=True, eq=False)
class _Ground:
    """A target laid on the benches of all its setups."""

    stack: Stack
    places: Places
    benches: tuple[Bench, ...]

    @property
    def resolution(self) -> float:
        return RESOLUTIONS[self.stack.units]


@lru_cache(maxsize=4)
def _ground(stack: Stack) -> _Ground:
    assert stack.target is not None, "a ground has a target"
    wanted = wanted_in(stack.blank, stack.target, CHORD)
    places = places_of(wanted, stack.blank)
    leftover = max(stack.tolerance.leftover, LEAST_TOLERANCE)
    overcut = max(stack.tolerance.overcut, LEAST_TOLERANCE)
    aim = aim_at(wanted, leftover, overcut, spacing=wanted.length)
    # a hair more or less of the wood that has to stay changes nothing here, and takes long
    kept = shapely.simplify(aim.kept, SIMPLER * overcut)
    aim = replace(aim, kept=kept, points=places.points, touched=len(places.points))
    resolution = RESOLUTIONS[stack.units]
    setups = (FACE, *stack.setups)
    return _Ground(
        stack, places, tuple(lay(aim, stack.blank, setup, resolution) for setup in setups)
    )


def _looked_at(bit: Bit, ground: _Ground) -> BitReach:
    places = ground.places
    pieces, corners = len(places.firsts), np.zeros(places.corners, dtype=bool)
    reached: Booleans = np.zeros(places.on_pieces, dtype=bool)
    fitted, best = np.zeros(pieces, dtype=bool), 0.0
    for bench in ground.benches:
        table = _table(bit, bench, ground)
        if len(table) == 0:
            continue
        reached |= table[:, : places.on_pieces].any(axis=0)
        corners |= table[:, places.on_pieces :].any(axis=0)
        if pieces:
            of_pieces = _shares(table[:, : places.on_pieces], places)
            fitted |= (of_pieces == 1.0).any(axis=0)
            best = max(best, float((of_pieces @ places.lengths).max()))
    shares = _shares(reached[None, :], places)[0] if pieces else np.zeros(0)
    whole = float(places.lengths.sum()) or 1.0
    stretches = shares * places.lengths
    # a short piece counts when all of it is followed
    useful = (stretches >= LEAST_STRETCH) | (shares == 1.0)
    arches = places.arches
    return BitReach(
        share=float(stretches.sum()) / whole,
        best_pass=best / whole,
        reaches=bool(useful.any()),
        fits=tuple(a for a, fit in zip(arches, fitted, strict=True) if a and fit),
        follows=tuple(a for a, share in zip(arches, shares, strict=True) if a and share == 1.0),
        corners=int(corners.sum()),
        of_corners=places.corners,
        why="" if useful.any() else _reason(bit, ground),
    )


def _shares(table: Booleans, places: Places) -> npt.NDArray[np.float64]:
    """How much of each piece (m,) the rows (n, points) reach: (n, m)."""
    counts = np.diff(np.append(places.firsts, places.on_pieces))
    return np.asarray(np.add.reduceat(table, places.firsts, axis=1, dtype=np.float64) / counts)


def _table(bit: Bit, bench: Bench, ground: _Ground) -> Booleans:
    """Which places each of the bit's candidate passes reaches."""
    stack = ground.stack
    if isinstance(stack.run, TurnedRun) and has_undercut(bit):
        return np.zeros((0, len(bench.points)), dtype=bool)
    low, high = axis_limits(bit, bench.setup, stack.run, bench.lie.width)
    candidates = candidates_of(bit, bench, ground.resolution, low, high)
    touched = np.ones(len(bench.points), dtype=bool)
    return reach(candidates, bench.points, touched, bench.rims)


def _reason(bit: Bit, ground: _Ground) -> str:
    """Why a bit reaches nothing: the first change to it that would let it reach something."""
    if isinstance(ground.stack.run, TurnedRun) and has_undercut(bit):
        return "it undercuts: on a turned part it could not come out again"
    for why, changed in _changes(bit):
        if any(_reaches(changed, bench, ground) for bench in ground.benches):
            return why
    hollows = [arch.radius for arch in ground.places.arches if arch and arch.hollow]
    if hollows and _nose_radius(bit) > max(hollows):
        return "its radius is larger than that of every hollow"
    return "it is too wide for every place that has to be cut"


def _nose_radius(bit: Bit) -> float:
    """The radius of a round nose [mm]; 0 for a bit of another shape."""
    match bit.shape:
        case CoreBox(diameter):
            return diameter / 2.0
        case TaperBall(radius):
            return radius
        case _:
            return 0.0


def _changes(bit: Bit) -> Iterator[tuple[str, Bit]]:
    """What could be other about a bit, with the reason that it then was."""
    if bit.pilot_diameter is not None:
        bare = replace(bit, pilot_diameter=None, pilot_length=None)
        yield "its bearing meets the wood before the edge does", bare
        bit = bare
    yield "the nut meets the wood: it is too short from tip to nut", replace(bit, length=3.0 * LONG)
    try:
        longer = replace(bit, cutting_length=LONG, length=3.0 * LONG, measured=None)
    except InputError:
        return  # a side that leans inward closes before it is so long
    yield "its edge is too short: the shank meets the wood", longer


def _reaches(bit: Bit, bench: Bench, ground: _Ground) -> bool:
    table = _table(bit, bench, ground)[:, : ground.places.on_pieces]
    if len(table) == 0 or len(ground.places.firsts) == 0:
        return False
    shares = _shares(np.asarray(table.any(axis=0))[None, :], ground.places)[0]
    return bool(((shares * ground.places.lengths >= LEAST_STRETCH) | (shares == 1.0)).any())
