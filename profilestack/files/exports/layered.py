"""What a drawing for another program shows: exact paths by layers, and lines of text.

The section stands at the origin: x right, z up, from the lower left of the blank's box. Beside it
to the right lies the part in plan, once for each setup: x across, y along the part from its left
end.
"""

from __future__ import annotations

import math
import re
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Literal

from profilestack.cutting.cut import Cut, PassCut
from profilestack.cutting.stroke import lie_of
from profilestack.errors import GeometryError
from profilestack.geometry.crossing import part_of
from profilestack.geometry.extent import box_of
from profilestack.geometry.motion import move
from profilestack.geometry.path import Arc, Path, Point, Segment
from profilestack.stack import CurvedRun, Setup, StraightRun
from profilestack.targets.profile_layer import BLANK_LAYER, TARGET_LAYER
from profilestack.units import format_length

Show = Literal["both", "section", "plan"]

CHECK_LENGTH = 100.0
"""Length of the line to check the scale by [mm]."""

TEXT = 3.5
"""Height of the text [mm]."""

LINE = 90
"""Letters of a line of text."""

APART = 50.0
"""Between the section and the plans [mm]."""

LONGEST_NAME = 31
"""Letters of a layer's name: older programs take no more."""


@dataclass(frozen=True, slots=True)
class Layer:
    """Paths [mm] under one ASCII name; ``color`` counts as in DXF (1 red ... 7 black or white)."""

    name: str
    color: int
    paths: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class Note:
    """A line of ASCII text, its base line's left end at ``at`` [mm]."""

    at: Point
    text: str


@dataclass(frozen=True, slots=True)
class LayeredDrawing:
    """Layers and notes; ``units`` ("mm" or "in") are those that the file's numbers are meant in.

    Coordinates are mm here.
    """

    layers: tuple[Layer, ...]
    notes: tuple[Note, ...]
    units: str
    title: str


def layered_drawing(
    cut: Cut, outline: Sequence[Path], units: str, show: Show = "both"
) -> LayeredDrawing:
    """A cut stack for other programs: wanted profile, section as cut, bits' axes in plan.

    Args:
        cut: the stack, cut.
        outline: its section as exact paths.
        units: "mm" or "in", of the file's numbers.
        show: the section, the plan or both; a plan alone stands at the origin.
    """
    section = _section_layers(cut, outline) if show != "plan" else []
    lie = lie_of(cut.stack.blank, 0.0)
    at = lie.width + APART if section else 0.0
    plans = list(_plans(cut, at)) if show != "section" else []
    axes = _axis_layers(cut, plans)
    if plans:
        axes.insert(0, Layer("PLAN", 8, tuple(p for plan in plans for p in plan.outlines)))
    check = Layer("CHECK", 8, (Path((0.0, -15.0)).line((CHECK_LENGTH, -15.0)),))
    notes = [*_check_notes(units), *_section_notes(bool(section)), *_plan_notes(plans, units)]
    rows = [row for note in notes for row in textwrap.wrap(note, LINE)]
    placed = tuple(Note((0.0, -22.0 - 1.6 * TEXT * k), text) for k, text in enumerate(rows))
    return LayeredDrawing((*section, *axes, check), placed, units, ascii_text(cut.stack.title))


def ascii_text(text: str, longest: int = 200) -> str:
    """Text that any program can show: printable ASCII on one line."""
    plain = text.encode("ascii", "replace").decode("ascii")
    return " ".join("".join(c if c.isprintable() else " " for c in plain).split())[:longest]


def layer_names(words: Sequence[str], prefix: str) -> dict[str, str]:
    """A layer's name for each word: letters, digits, - and _ alone, all different."""
    names: dict[str, str] = {}
    taken: set[str] = set()
    for word in words:
        cleaned = re.sub(r"[^A-Z0-9]+", "_", word.upper()).strip("_") or "BIT"
        name, number = f"{prefix}{cleaned}"[:LONGEST_NAME], 1
        while name in taken:
            number += 1
            name = f"{f'{prefix}{cleaned}'[: LONGEST_NAME - 4]}_{number}"
        taken.add(name)
        names[word] = name
    return names


def _section_layers(cut: Cut, outline: Sequence[Path]) -> list[Layer]:
    target = cut.stack.target
    layers = [Layer(BLANK_LAYER, 8, (cut.stack.blank.outline(),))]
    if target is not None:
        layers.append(Layer(TARGET_LAYER, 5, (target.path(),)))
    layers.append(Layer("SECTION", 7, tuple(outline)))
    return layers


@dataclass(frozen=True, slots=True)
class _Plan:
    """The part from above in one setup; ``origin`` is the left end of its left side [mm]."""

    setup: Setup
    outlines: tuple[Path, ...]
    origin: Point


def _plans(cut: Cut, at: float) -> Iterator[_Plan]:
    names = dict.fromkeys(single.cut.setup for single in cut.passes) or {"face": None}
    for name in names:
        setup = cut.stack.setup(name)
        width = lie_of(cut.stack.blank, setup.angle).width
        outlines = _plan_outline(cut, width)
        box = box_of(outlines[0])
        # a bend that comes back under its own start is moved clear of what stands to its left
        shift = (at - box.left, -box.bottom) if at else (0.0, 0.0)
        yield _Plan(setup, tuple(move(*shift).apply_to(path) for path in outlines), shift)
        at = box.right + shift[0] + APART


def _plan_outline(cut: Cut, width: float) -> tuple[Path, ...]:
    """The part from above: one contour, or the two of a ring, the larger first."""
    run = cut.stack.run
    if isinstance(run, StraightRun):
        low, high = 0.0, run.length
    elif isinstance(run, CurvedRun):
        inner, outer = along_run(cut, 0.0).reversed(), along_run(cut, width)
        if outer.is_closed:
            return (outer, inner)
        return (outer.joined(inner).line(outer.start),)
    else:
        radius = lie_of(cut.stack.blank, 0.0).height
        low, high = -radius, radius
    path = Path((0.0, low)).line((width, low)).line((width, high)).line((0.0, high))
    return (path.line((0.0, low)),)


def along_run(
    cut: Cut, offset: float, begin: float | None = None, end: float | None = None
) -> Path:
    """The way of a bit's axis in plan [mm], from the part's left end.

    The blank's left side begins at (0, 0); a bend goes to the left about (-radius, 0). A turned
    part's axis lies at y = 0, and the bit stands still over it: its line goes across the part.

    Raises:
        GeometryError: the axis lies beyond the middle of the bend.
    """
    run = cut.stack.run
    if isinstance(run, StraightRun):
        last = run.length if end is None else end
        return Path((offset, begin or 0.0)).line((offset, last))
    if isinstance(run, CurvedRun):
        radius, center = run.radius + offset, (-run.radius, 0.0)
        if radius <= 0.0:
            raise GeometryError(f"an axis at {offset:g} mm lies beyond the middle of the bend")
        if run.angle >= 360.0:
            return Path((offset, 0.0)).arc((offset, 0.0), center, "ccw")
        angle = math.radians(run.angle)
        to = (center[0] + radius * math.cos(angle), radius * math.sin(angle))
        return Path((offset, 0.0)).arc(to, center, "ccw")
    radius = lie_of(cut.stack.blank, 0.0).height
    return Path((offset, -radius)).line((offset, radius))


def _axis_layers(cut: Cut, plans: Sequence[_Plan]) -> list[Layer]:
    names = layer_names(list(dict.fromkeys(single.bit.id for single in cut.passes)), "AXIS_")
    layers = []
    for number, (bit, name) in enumerate(names.items()):
        paths = chain.from_iterable(
            _axes(cut, single, plan)
            for plan in plans
            for single in cut.passes
            if single.bit.id == bit and single.cut.setup == plan.setup.name
        )
        layers.append(Layer(name, 1 + number % 6, tuple(paths)))
    return [layer for layer in layers if layer.paths]


def _axes(cut: Cut, single: PassCut, plan: _Plan) -> Iterator[Path]:
    """The ways of a pass, its repeats across too; copies lie over each other."""
    placed = single.cut
    for repeat in range(placed.count):
        path = along_run(cut, placed.offset + repeat * placed.pitch, placed.begin, placed.end)
        yield move(*plan.origin).apply_to(path)


def _check_notes(units: str) -> list[str]:
    length = format_length(CHECK_LENGTH, units, 0.0001)
    word = {"mm": "millimetres", "in": "inches"}[units]
    same = "" if units == "mm" else f" = {length}"
    return [f"Units: {word}. The line above is 100 mm{same} long: check it first."]


def _section_notes(shown: bool) -> list[str]:
    if not shown:
        return []
    return [
        "Section: seen from the left end of the part; x right, y up; "
        "origin (0, 0) at the lower left of the blank's box."
    ]


def _plan_notes(plans: Sequence[_Plan], units: str) -> Iterator[str]:
    for plan in plans:
        x, y = (format_length(value, units) for value in plan.origin)
        angle = f", turned by {plan.setup.angle:g} degrees" if plan.setup.angle else ""
        yield (
            f"Plan, setup {ascii_text(plan.setup.name, 60)}{angle}: seen from above, x across from "
            f"the left side, y along from the left end; its origin is at x {x}, y {y}."
        )


def in_file_units(drawing: LayeredDrawing, unit: float) -> LayeredDrawing:
    """The drawing with every coordinate divided by ``unit`` [mm]."""

    def scaled(point: Point) -> Point:
        return (point[0] / unit, point[1] / unit)

    layers = tuple(
        replace(layer, paths=tuple(path.moved(scaled) for path in layer.paths))
        for layer in drawing.layers
    )
    notes = tuple(replace(note, at=scaled(note.at)) for note in drawing.notes)
    return replace(drawing, layers=layers, notes=notes)


def parts_of(path: Path, most: float) -> Iterator[Segment]:
    """The pieces of a path, arcs that turn by more than ``most`` [rad] in equal parts."""
    for piece in path.segments:
        count = max(1, math.ceil(abs(piece.sweep) / most - 1e-9)) if isinstance(piece, Arc) else 1
        for part in range(count):
            yield part_of(piece, part / count, (part + 1) / count)
