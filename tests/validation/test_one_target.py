"""One profile through every kind of file gives one target.

The profile is known by its numbers, so that every route is held against it as well as against the
others: 0.005 mm for drawings and points (half a hundredth: finer than a shop can set), 0.1 mm for a
scan at 300 dots per inch (1.2 pixels).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path as FilePath

import numpy as np
import pytest

from profilestack.geometry.motion import move
from profilestack.geometry.path import Arc, Path, Point
from profilestack.jobs.target import Laying, TargetRequest, make_target
from profilestack.stack import PathTarget
from tests.unit.files.targets.drawings import (
    dxf_bytes,
    dxf_of_pieces,
    new_dxf,
    svg,
    svg_path_of,
)
from tests.unit.files.targets.pictures import encoded, picture
from tests.unit.targets.profiles import SECTION, STEPPED, farthest, sampled

DRAWN = 0.005
SCANNED = 0.1

PLACED = move(0.0, 3.0).apply_to(STEPPED)
"""Where the profile lies in its blank: 8 mm of wood under its lowest fillet, which is at 5."""


def dxf_pieces(version: str, units: int, scale: float) -> Callable[[FilePath], FilePath]:
    def write(folder: FilePath) -> FilePath:
        path = folder / f"{version}-{units}.dxf"
        path.write_bytes(dxf_of_pieces(STEPPED, version, units, scale))
        return path

    return write


def dxf_polyline(folder: FilePath) -> FilePath:
    """One LWPOLYLINE with bulges."""
    bulges = [math.tan(p.sweep / 4.0) if isinstance(p, Arc) else 0.0 for p in STEPPED.segments]
    corners = [STEPPED.start, *(step.to for step in STEPPED.steps)]
    drawing = new_dxf()
    points = [(x, z, b) for (x, z), b in zip(corners, [*bulges, 0.0], strict=True)]
    drawing.modelspace().add_lwpolyline(points, format="xyb")
    (folder / "polyline.dxf").write_bytes(dxf_bytes(drawing))
    return folder / "polyline.dxf"


def dxf_short_lines(folder: FilePath) -> FilePath:
    """A thousand LINEs, as programs write that know no arcs."""
    drawing = new_dxf()
    points = STEPPED.flatten(1e-4).tolist()
    for start, end in pairwise(points):
        drawing.modelspace().add_line(start, end)
    (folder / "lines.dxf").write_bytes(dxf_bytes(drawing))
    return folder / "lines.dxf"


def dxf_splines(folder: FilePath) -> FilePath:
    """Its arcs as rational splines of degree 2, which are arcs exactly."""
    drawing = new_dxf()
    for piece in STEPPED.segments:
        if not isinstance(piece, Arc):
            drawing.modelspace().add_line(piece.start, piece.end)
            continue
        half = abs(piece.sweep) / 2.0
        middle = ((piece.start[0] + piece.end[0]) / 2.0, (piece.start[1] + piece.end[1]) / 2.0)
        away = (middle[0] - piece.center[0], middle[1] - piece.center[1])
        stretch = 1.0 / math.cos(half) ** 2
        corner = (piece.center[0] + stretch * away[0], piece.center[1] + stretch * away[1])
        control = [(*piece.start, 0.0), (*corner, 0.0), (*piece.end, 0.0)]
        drawing.modelspace().add_rational_spline(control, [1.0, math.cos(half), 1.0], degree=2)
    (folder / "splines.dxf").write_bytes(dxf_bytes(drawing))
    return folder / "splines.dxf"


def svg_arcs(folder: FilePath) -> FilePath:
    (folder / "arcs.svg").write_bytes(svg(f'<path d="{svg_path_of(STEPPED)}"/>'))
    return folder / "arcs.svg"


def svg_curves(folder: FilePath) -> FilePath:
    """Its arcs as cubic curves of an eighth of a turn, as most drawing programs write them.

    The usual handles, 4/3 tan(sweep/4) long, leave a circle by about 4e-6 of its radius there.
    """
    words = [f"M {STEPPED.start[0]} {-STEPPED.start[1]}"]
    for piece in STEPPED.segments:
        if not isinstance(piece, Arc):
            words.append(f"L {piece.end[0]} {-piece.end[1]}")
            continue
        for k in range(2):
            first = piece.start_angle + k * piece.sweep / 2.0
            words.append(_cubic(piece, first, piece.sweep / 2.0))
    body = f'<g transform="scale(0.1)"><path transform="scale(10)" d="{" ".join(words)}"/></g>'
    size = 'width="4in" height="2in" viewBox="0 0 101.6 50.8"'
    (folder / "curves.svg").write_bytes(svg(body, size))
    return folder / "curves.svg"


def _cubic(piece: Arc, first: float, sweep: float) -> str:
    handle = 4.0 / 3.0 * math.tan(sweep / 4.0)

    def at(angle: float, along: float) -> Point:
        x, z = math.cos(angle), math.sin(angle)
        r = piece.radius
        return (piece.center[0] + r * (x - along * z), piece.center[1] + r * (z + along * x))

    points = (at(first, handle), at(first + sweep, -handle), at(first + sweep, 0.0))
    return "C " + " ".join(f"{x:.6f} {-z:.6f}" for x, z in points)


def csv_points(folder: FilePath) -> FilePath:
    rows = "".join(f"{x:.4f},{z:.4f}\n" for x, z in sampled(STEPPED, 0.4).tolist())
    (folder / "points.csv").write_text("x_mm,z_mm\n" + rows)
    return folder / "points.csv"


def csv_sparse(folder: FilePath) -> FilePath:
    """Inches, from right to left, hardly a corner among the points."""
    points = sampled(STEPPED, 0.25)[1::3][::-1] / 25.4
    rows = "".join(f"{x:.6f}\t{z:.6f}\n" for x, z in points.tolist())
    (folder / "sparse.csv").write_text("x (in)\tz (in)\n" + rows)
    return folder / "sparse.csv"


ROUTES: dict[str, Callable[[FilePath], FilePath]] = {
    "DXF R12": dxf_pieces("R12", 0, 1.0),
    "DXF R2010": dxf_pieces("R2010", 4, 1.0),
    "DXF R2010 in inches": dxf_pieces("R2010", 1, 1.0 / 25.4),
    "DXF polyline with bulges": dxf_polyline,
    "DXF of a thousand lines": dxf_short_lines,
    "DXF of splines": dxf_splines,
    "SVG of arcs": svg_arcs,
    "SVG of cubic curves": svg_curves,
    "CSV": csv_points,
    "CSV in inches": csv_sparse,
}


def target_from(path: FilePath, laying: Laying | None = None) -> Path:
    from profilestack.files.targets import ReadingWishes

    # R12 cannot say its units
    reading = ReadingWishes(units="mm" if "R12" in path.name else None)
    request = TargetRequest(path, reading=reading, laying=laying or Laying())
    target = make_target(request).stack.target
    assert isinstance(target, PathTarget)
    return target.typed


def apart(one: Path, two: Path) -> float:
    """The largest distance between two paths, both ways [mm]."""
    return max(
        farthest(one.flatten(1e-3)[::3], two),
        farthest(two.flatten(1e-3)[::3], one),
        math.dist(one.start, two.start),
        math.dist(one.end, two.end),
    )


@pytest.mark.parametrize("route", ROUTES)
def test_every_drawing_and_table_gives_the_profile(route: str, tmp_path: FilePath) -> None:
    laying = Laying(at=(0.0, 3.0), width=70.0, thickness=48.0)
    target = target_from(ROUTES[route](tmp_path), laying)
    assert apart(target, PLACED) <= DRAWN
    assert len(target.steps) == len(STEPPED.steps)
    radii = [piece.radius for piece in target.segments if isinstance(piece, Arc)]
    assert radii == pytest.approx([20.0, 10.0, 10.0], abs=0.02)


def test_all_of_them_give_one_target(tmp_path: FilePath) -> None:
    laying = Laying(at=(0.0, 3.0), width=70.0, thickness=48.0)
    found = [target_from(write(tmp_path), laying) for write in ROUTES.values()]
    for other in found[1:]:
        assert apart(found[0], other) <= DRAWN


@pytest.mark.parametrize("grain", [0.0, 10.0])
def test_a_scan_at_300_dots_gives_the_section(grain: float, tmp_path: FilePath) -> None:
    path = tmp_path / "scan.png"
    path.write_bytes(encoded(picture(SECTION, 300, grain=grain), dpi=(300, 300)))
    target = target_from(path)
    corners = np.array([step.to for step in SECTION.steps])
    assert farthest(target.flatten(0.01)[::5], SECTION) <= SCANNED
    assert farthest(SECTION.flatten(0.01)[::5], target) <= SCANNED
    assert farthest(corners, target) <= SCANNED
    assert len(target.steps) == len(SECTION.steps)


def test_a_drawn_line_at_300_dots_gives_the_profile(tmp_path: FilePath) -> None:
    from profilestack.files.targets import PictureWishes, ReadingWishes

    path = tmp_path / "tracing.png"
    path.write_bytes(encoded(picture(STEPPED, 300, line=0.6), dpi=(300, 300)))
    reading = ReadingWishes(picture=PictureWishes(trace="line"))
    # 5 mm of bare paper lie round the profile; the blank is as wide as it
    laying = Laying(at=(-5.0, -2.0), width=70.0, thickness=48.0)
    target = make_target(TargetRequest(path, reading=reading, laying=laying)).stack.target
    assert isinstance(target, PathTarget)
    assert farthest(target.typed.flatten(0.01)[::5], PLACED) <= SCANNED
    wanted = PLACED.flatten(0.01)
    inside = (wanted[:, 0] > 0.4) & (wanted[:, 0] < 69.6)  # but for half the pen's width
    assert farthest(wanted[inside], target.typed) <= SCANNED
    assert len(target.typed.steps) == len(STEPPED.steps)
