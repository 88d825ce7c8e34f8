"""The job of making a target from a drawing, measured points or a picture."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path as FilePath

from profilestack.cutting.cut import CHORD
from profilestack.cutting.wanted import wanted_in
from profilestack.errors import InputError, Problem
from profilestack.files.targets import ReadingWishes
from profilestack.files.targets.isolation import read_tracing
from profilestack.geometry.motion import Motion, mirror, move, turn
from profilestack.geometry.offset import offset_path
from profilestack.geometry.path import Path, Point
from profilestack.jobs.target_chains import corrected, profiles_in
from profilestack.progress import SILENT, Progress
from profilestack.stack import Blank, PathTarget, Rectangle, Stack, StraightRun
from profilestack.targets.averaging import Average, averaged
from profilestack.targets.bulges import tidied
from profilestack.targets.deviation import Deviation
from profilestack.targets.fitting import FitWishes, Tangent, fit
from profilestack.targets.joining import GAP
from profilestack.targets.placement import placement_problems
from profilestack.targets.rows import Corner
from profilestack.targets.seating import WOODS, Seat, Wood, led_to_sides, seat_for, seat_in, walked
from profilestack.targets.tracing import Chain, box_of_chains, moved
from profilestack.units import format_length

USUAL_LENGTH = 1000.0
"""Length of the new stack's straight run, until someone says [mm]."""

MEASURED_DIGITS, DRAWN_DIGITS = 5, 9
"""Decimals of a mm that points of a target are given with: no measurement is finer."""

FEW_STEPS = 20
"""Fewer steps between measured points say nothing about scatter."""

SPARE_SCATTER = 4
"""With more pieces than a quarter of the points the tolerance is below the points' own scatter."""

OWN_BLANK = "its blank is that of layer BLANK"
NO_BLANK = "layer BLANK holds no board round the profile: a blank was made to fit"


@dataclass(frozen=True, slots=True)
class Corrections:
    """What is taken off before a profile is fitted.

    ``across`` and ``up`` multiply x and z (scanners differ); ``tilt`` [deg], counter-clockwise, is
    how far the whole lies turned; ``paint`` [mm] is the thickness of paint on the wood, below 0
    for what was measured too small.
    """

    across: float = 1.0
    up: float = 1.0
    tilt: float = 0.0
    paint: float = 0.0


@dataclass(frozen=True, slots=True)
class Laying:
    """How the profile lies in the blank.

    Mirrored left to right, multiplied by ``scale``, turned by ``rotation`` [deg], then moved by
    ``at`` [mm]; None: against the blank's sides. ``width`` and ``thickness`` of the blank [mm];
    None: those of the profile, and ``margin`` [mm] behind it. ``wood``: where the wood lies.
    Where none of them is given and the file has a blank beside the profile (``export`` writes
    one), that blank is taken, unless ``own_blank`` is false.
    """

    mirror: bool = False
    scale: float = 1.0
    rotation: float = 0.0
    at: Point | None = None
    width: float | None = None
    thickness: float | None = None
    margin: float | None = None
    wood: Wood = "below"
    own_blank: bool = True

    @property
    def may_take_blank(self) -> bool:
        """Whether nothing else was asked for than the file's own blank."""
        given = (self.at, self.width, self.thickness, self.margin)
        return self.own_blank and all(value is None for value in given)


@dataclass(frozen=True, slots=True)
class TargetRequest:
    """A file to make a target of, and how.

    ``slices`` are more files of the same profile; with them, or where ``average`` says that the
    chains of the file are slices, the mean is taken. ``gap`` [mm] is closed between chains;
    ``pick`` says which chain is meant where several stay. ``tolerance`` [mm]; None: what suits
    the kind of file. ``corners`` are in the file's own coordinates, in mm.

    Raises:
        InputError: every value out of range.
    """

    file: FilePath
    slices: tuple[FilePath, ...] = ()
    average: bool = False
    reading: ReadingWishes = field(default_factory=ReadingWishes)
    gap: float = GAP
    pick: str | int | None = None
    corrections: Corrections = field(default_factory=Corrections)
    tolerance: float | None = None
    tangent: Tangent = "where-it-fits"
    level: bool = True
    corners: tuple[Corner, ...] = ()
    laying: Laying = field(default_factory=Laying)
    length: float = USUAL_LENGTH
    title: str | None = None
    units: str | None = None

    def __post_init__(self) -> None:
        if problems := _request_problems(self):
            raise InputError(problems)


@dataclass(frozen=True, slots=True, eq=False)
class TargetReport:
    """A new stack with its target, and how it came about.

    ``traced`` is what was read, and ``fitted`` the path fitted to it, both as they lie in the
    blank, before paint is taken off and ends are led on. ``deviation`` [mm] lies between them.
    ``before`` and ``after`` count segments and pieces. ``chains`` are all that the file holds, in
    the file's own place and numbered from 1 as ``pick`` counts them.
    """

    stack: Stack
    traced: Chain
    fitted: Path
    deviation: Deviation
    tolerance: float
    before: int
    after: int
    average: Average | None
    notes: tuple[str, ...]
    chains: tuple[Chain, ...] = ()

    @property
    def is_good(self) -> bool:
        """Whether the path keeps the tolerance."""
        return self.deviation.largest <= self.tolerance


def make_target(request: TargetRequest, progress: Progress = SILENT) -> TargetReport:
    """Read a file, fit few lines and arcs to it, and seat them in a blank.

    Raises:
        Cancelled: the progress was stopped while a file was read.
        FileError: a file that cannot be read.
        InputError: what is wrong with it, or with where it comes to lie.
    """
    names = (request.file, *request.slices)
    tracings = [read_tracing(name, request.reading, progress) for name in names]
    notes = [note for tracing in tracings for note in tracing.notes]
    found = profiles_in(tracings, request)
    chains = found.profiles
    notes += found.notes
    tolerance = request.tolerance
    if tolerance is None:
        tolerance = max(tracing.tolerance for tracing in tracings)
    whole = _motion(chains, request)
    chains = [moved(chain, whole) for chain in chains]
    average = averaged(chains, tolerance) if len(chains) > 1 else None
    traced = average.chain if average else chains[0]
    scale = request.laying.scale
    corners = tuple(
        Corner(whole.apply(corrected(corner.at, request.corrections)), scale * corner.blunt)
        for corner in request.corners
    )
    fitted = fit(traced, FitWishes(tolerance, request.tangent, request.level, corners))
    many = fitted.before >= FEW_STEPS  # a few points make a few lines, and that is right
    if traced.measured and many and fitted.after * SPARE_SCATTER > fitted.before:
        notes.append(
            f"{fitted.after} pieces for {fitted.before} steps: the points scatter more than the "
            f"tolerance of {format_length(tolerance, request.units or tracings[0].units, 0.0001)}; "
            "a larger --tolerance gives fewer"
        )
    blank = None if found.blank is None else moved(found.blank, whole)
    path, seat, told = _seated(fitted.path, blank, request)
    shift = move(*seat.shift)
    notes += told
    digits = MEASURED_DIGITS if traced.measured else DRAWN_DIGITS
    path = tidied(path, digits)
    target = PathTarget(path, path.is_closed)
    board = Blank(Rectangle(round(seat.width, digits), round(seat.thickness, digits)))
    wanted_in(board, target, CHORD)
    stack = Stack(
        board,
        StraightRun(request.length),
        _title(request),
        request.units or tracings[0].units,
        target=target,
    )
    return TargetReport(
        stack, moved(traced, shift), shift.apply_to(fitted.path), fitted.deviation, tolerance,
        fitted.before, fitted.after, average, tuple(dict.fromkeys(notes)), found.chains,
    )  # fmt: skip


def _seated(
    path: Path, blank: Chain | None, request: TargetRequest
) -> tuple[Path, Seat, list[str]]:
    """The path with its paint off, moved into a blank and led to its sides; the seat; and notes."""
    laying, seat, notes = request.laying, None, []
    path = walked(path, laying.wood)
    path = offset_path(path, -request.corrections.paint, "sharp")
    if blank is not None and laying.may_take_blank:
        seat = seat_in(path, blank)
        notes.append(OWN_BLANK if seat is not None else NO_BLANK)
    if seat is None:
        seat = seat_for(path, laying.wood, laying.width, laying.thickness, laying.margin, laying.at)
    path = move(*seat.shift).apply_to(path)
    path, told = led_to_sides(path, laying.wood, seat.width, seat.thickness)
    return path, seat, [*notes, *told]


def _motion(chains: Sequence[Chain], request: TargetRequest) -> Motion:
    """Mirrored in its own box, scaled and turned; where it comes to lie is seen later."""
    laying = request.laying
    motion = Motion()
    if laying.mirror:
        left, _, right, _ = box_of_chains(chains)
        motion = mirror((left + right) / 2.0)
    return motion.then(Motion(scale=laying.scale)).then(turn(laying.rotation))


def _title(request: TargetRequest) -> str:
    name = request.file.stem if request.title is None else request.title
    plain = name.encode("utf-8", "replace").decode("utf-8")
    return "".join(mark for mark in plain if mark.isprintable())


def _request_problems(request: TargetRequest) -> list[Problem]:
    found = []
    laying, off = request.laying, request.corrections
    for key, value, low, high, expected in (
        ("gap", request.gap, 0.0, 100.0, "0 to 100 mm"),
        ("scale-x", off.across, 0.01, 100.0, "0.01 to 100"),
        ("scale-z", off.up, 0.01, 100.0, "0.01 to 100"),
        ("tilt", off.tilt, -90.0, 90.0, "-90 to 90 degrees"),
        ("paint", off.paint, -10.0, 10.0, "-10 to 10 mm"),
        ("width", laying.width, 1e-3, 1e6, "a length above 0"),
        ("thickness", laying.thickness, 1e-3, 1e6, "a length above 0"),
        ("margin", laying.margin, 0.0, 1e6, "0 or more"),
        ("length", request.length, 1e-3, 1e9, "a length above 0"),
    ):
        if value is not None and not (math.isfinite(value) and low <= value <= high):
            found.append(Problem(key, f"{value!r} is impossible", expected))
    found += placement_problems(laying.at or (0.0, 0.0), laying.scale, laying.rotation)
    if laying.wood not in WOODS:
        found.append(Problem("wood", f"{laying.wood!r} is unknown", f"one of {', '.join(WOODS)}"))
    for corner in request.corners:
        if not (0.0 <= corner.blunt <= 100.0 and all(map(math.isfinite, corner.at))):
            found.append(Problem("corner", f"{corner!r} is impossible", "a place; blunt 0 to 100"))
    return found
