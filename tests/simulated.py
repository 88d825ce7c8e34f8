"""Programs run by the simulator, and the section they leave; lengths in mm.

Bits are drawn here from the formulas of the trade, not by the engine.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import CoreBox, Dovetail, Roundover, Straight, VGroove
from profilestack.planning.toolpath.programs import Program
from profilestack.stack import CurvedRun, Stack, StraightRun
from tests.machine_simulator import Machine, Swing, crossing_plane, crossing_ray, run_code, swept

FINE = 2000


def silhouette(bit: Bit) -> BaseGeometry:
    """The bit about its axis and tip: r(h) as the table of shapes says."""
    top = bit.cutting_length
    h = np.unique(np.concatenate((np.linspace(0.0, top, FINE), _cosines(bit, top))))
    shape = bit.shape
    if isinstance(shape, Straight):
        r = np.full_like(h, shape.diameter / 2.0)
    elif isinstance(shape, CoreBox):
        radius = shape.diameter / 2.0
        low = np.minimum(h, radius)
        r = np.sqrt(radius**2 - (radius - low) ** 2)
    elif isinstance(shape, VGroove):
        slope = math.tan(math.radians(shape.angle / 2.0))
        h = np.unique(np.append(h, (shape.diameter - shape.tip) / 2.0 / slope))
        h = h[h <= top]
        r = np.minimum(shape.tip / 2.0 + h * slope, shape.diameter / 2.0)
    elif isinstance(shape, Roundover):
        low = np.minimum(h, shape.radius)
        r = shape.tip / 2.0 + shape.radius - np.sqrt(shape.radius**2 - low**2)
    elif isinstance(shape, Dovetail):
        r = shape.diameter / 2.0 - h * math.tan(math.radians(shape.angle))
    else:
        raise NotImplementedError(shape)
    right = np.column_stack((r, h))
    left = np.column_stack((-r, h))[::-1]
    return shapely.make_valid(shapely.polygons(np.concatenate((right, left))))


def _cosines(bit: Bit, top: float) -> np.ndarray:
    """Heights that lie even on a quarter circle, where a round changes quickest."""
    radius = getattr(bit.shape, "radius", 0.0) or bit.shape.size / 2.0
    turn = np.linspace(0.0, math.pi / 2.0, FINE)
    heights = np.concatenate((radius * (1.0 - np.cos(turn)), radius * np.sin(turn)))
    return np.append(heights[heights < top], min(radius, top))


def on_bench(region: BaseGeometry, blank: BaseGeometry, angle: float) -> BaseGeometry:
    """A region as it lies when the blank is turned counter-clockwise [deg] onto the bed."""
    turned = shapely.affinity.rotate(region, angle, origin=(0, 0))
    left, bottom, _, _ = shapely.affinity.rotate(blank, angle, origin=(0, 0)).bounds
    return shapely.affinity.translate(turned, -left, -bottom)


def off_bench(region: BaseGeometry, blank: BaseGeometry, angle: float) -> BaseGeometry:
    """Back into the section plane."""
    left, bottom, _, _ = shapely.affinity.rotate(blank, angle, origin=(0, 0)).bounds
    moved = shapely.affinity.translate(region, left, bottom)
    return shapely.affinity.rotate(moved, -angle, origin=(0, 0))


def part_in_plan(stack: Stack, width: float) -> BaseGeometry:
    """The part from above, its left side beginning at (0, 0)."""
    run = stack.run
    if isinstance(run, StraightRun):
        return shapely.box(0.0, 0.0, width, run.length)
    assert isinstance(run, CurvedRun)
    angles = np.linspace(0.0, math.radians(run.angle), 2000)
    rays = np.column_stack((np.cos(angles), np.sin(angles)))
    inner, outer = rays * run.radius, rays * (run.radius + width)
    if run.angle >= 360.0:
        ring = shapely.polygons(outer).difference(shapely.polygons(inner))
    else:
        ring = shapely.polygons(np.concatenate((inner, outer[::-1])))
    return shapely.affinity.translate(shapely.make_valid(ring), -run.radius, 0.0)


def raised(machine: Machine, by: float) -> Machine:
    """All moves counted from the bed, where z was counted from ``by`` above it."""
    for move in machine.moves:
        move.places = move.places + np.array((0.0, 0.0, by))
    return machine


def refuse_touching(stack: Stack, program: Program, machine: Machine, bits: Sequence[Bit]) -> None:
    """No rapid move may go through stock, and no bit may be pushed straight down into it."""
    part = part_in_plan(stack, program.width)
    for move in machine.moves:
        low, high = move.places[:, 2].min(), move.places[:, 2].max()
        straight_down = move.kind == "G1" and move.places[0, 2] > move.places[1, 2] and bool(
            (move.places[0, :2] == move.places[1, :2]).all()
        )  # fmt: skip
        if low >= program.height - 1e-9 or (move.kind != "G0" and not straight_down):
            continue
        shape = bits[move.tool - 1].shape
        widest = max(shape.size, bits[move.tool - 1].shank) / 2.0
        way = shapely.linestrings(move.places[:, :2]).buffer(widest)
        assert not way.intersects(part), f"line {move.line}: {move.kind} from {high} to {low}"


def places_cut(stack: Stack, moves: Sequence[Swing], share: float):
    """How a chain of places passes the section at ``share`` of the part's length."""
    run = stack.run
    if isinstance(run, StraightRun):
        return lambda places: crossing_plane(places, run.length * share)
    assert isinstance(run, CurvedRun)
    angle = math.radians(run.angle) * share
    return lambda places: crossing_ray(places, (-run.radius, 0.0), angle, run.radius)


def section_after(
    stack: Stack,
    programs: Sequence[Program],
    codes: Sequence[bytes],
    *,
    zero_at_face: bool = False,
    share: float = 0.37,
) -> BaseGeometry:
    """The section that the code leaves of the blank at ``share`` of the part's length."""
    blank = shapely.polygons(stack.blank.outline().flatten(1e-4))
    section: BaseGeometry = blank
    middle = shapely.box(*blank.bounds).centroid
    for program, code in zip(programs, codes, strict=True):
        machine = raised(run_code(code), program.height if zero_at_face else 0.0)
        refuse_touching(stack, program, machine, program.bits)
        at = places_cut(stack, machine.moves, share)
        for copy in range(program.setup.copies):
            turn = 360.0 * copy / program.setup.copies
            turned = shapely.affinity.rotate(section, turn, origin=middle)
            laid = on_bench(turned, blank, program.setup.angle)
            for tool, bit in enumerate(program.bits, 1):
                laid = laid.difference(swept(machine.moves, tool, silhouette(bit), at))
            back = off_bench(laid, blank, program.setup.angle)
            section = shapely.affinity.rotate(back, -turn, origin=middle)
    return section


def largest_distance(first: BaseGeometry, second: BaseGeometry) -> float:
    """The largest distance between two regions' outlines [mm]."""
    return float(first.boundary.hausdorff_distance(second.boundary))
