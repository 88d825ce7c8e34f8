"""Swept volumes, straight, curved and turned (Pappus and Guldinus)."""

from __future__ import annotations

import math

from profilestack.cutting.cut import Cut
from profilestack.stack import Blank, CurvedRun, Rectangle, Round, Run, StraightRun, TurnedRun
from profilestack.units import from_units, to_units
from tests.shop import core_box, cut
from tests.validation.check import CHORD, Check
from tests.validation.single_cuts import SEGMENT, segment_area

PAPPUS = 'E. Weisstein, CRC Concise Encyclopedia of Mathematics, "Pappus\'s Centroid Theorem"'
TORUS = "R. Larson, B. Edwards, Calculus, sec. 7.6, p. 501: torus R 2, r 1"


def to_cubic_inches(volume: float) -> float:
    return volume / from_units(1.0, "in") ** 3


def inches(value: float) -> float:
    return from_units(value, "in")


def cut_inches(
    radius: float, depth: float, run: Run, width: float, thickness: float, offset: float
) -> Cut:
    """One core-box pass, every measure in inches."""
    blank = Blank(Rectangle(inches(width), inches(thickness)))
    nose = core_box(inches(2 * radius))
    return cut((nose, inches(offset), inches(depth)), blank=blank, run=run, chord=CHORD)


def straight_volume() -> float:
    done = cut_inches(0.5, 0.25, StraightRun(inches(96.0)), 3.0, 1.5, 1.5)
    return to_cubic_inches(done.passes[0].removed_volume)


def curved_volume() -> float:
    """The bit's axis on a radius of 6 in: the blank's left side 1.5 in inside it."""
    done = cut_inches(0.5, 0.25, CurvedRun(inches(4.5), 90.0), 3.0, 1.5, 1.5)
    return to_cubic_inches(done.passes[0].removed_volume)


def turned_volume() -> float:
    done = cut_inches(0.25, 0.25, TurnedRun(), 3.0, 1.5, 1.5)
    return to_cubic_inches(done.passes[0].removed_volume)


def torus_volume() -> float:
    """A round blank of radius 1 bent to a ring of radius 2: its left side on radius 1."""
    run = CurvedRun(inches(1.0), 360.0)
    return to_cubic_inches(cut(blank=Blank(Round(inches(2.0))), run=run, chord=CHORD).volume)


def chord_slack(radius: float, half_angle: float, path: float) -> float:
    """2/3 x chord error x arc length, along the centroid's path [in3]."""
    return 2 / 3 * to_units(CHORD, "in") * 2 * radius * half_angle * path + 1e-9


RADIUS = 1.5
SEMICIRCLE = 0.25
GROOVE_DEPTH = 4 * SEMICIRCLE / (3 * math.pi)  # centroid of a half disc below its diameter
GROOVE = 2 * math.pi * (RADIUS - GROOVE_DEPTH) * math.pi * SEMICIRCLE**2 / 2
REASON = "2/3 x chord error x arc length x path of the centroid"
TOPIC = "Swept volume"

CHECKS = (
    Check(
        TOPIC, "segment R 0.5 in, 0.25 in deep, straight, 96 in long", "in3",
        SEGMENT + "; times the length", "computed", segment_area(0.5, 0.25) * 96.0,
        straight_volume, chord_slack(0.5, math.acos(0.5), 96.0), REASON, "14.7404364",
    ),
    Check(
        TOPIC, "the same cut along 90 degrees of a 6 in radius, bit axis on the radius", "in3",
        PAPPUS + " (read); area as above", "computed", segment_area(0.5, 0.25) * 6.0 * math.pi / 2,
        curved_volume, chord_slack(0.5, math.acos(0.5), 6.0 * math.pi / 2), REASON, "1.44713896",
    ),
    Check(
        TOPIC, "semicircular groove r 0.25 in turned into a cylinder of radius 1.5 in", "in3",
        PAPPUS + " (read); centroid of a half disc 4r/(3 pi) inside the surface", "computed",
        GROOVE, turned_volume, chord_slack(SEMICIRCLE, math.pi / 2, 2 * math.pi * RADIUS), REASON,
        "0.859825566",
    ),
    Check(
        TOPIC, "torus R 2 in, r 1 in", "in3", TORUS, "read", 4 * math.pi**2, torus_volume,
        chord_slack(1.0, math.pi, 4 * math.pi), REASON, "39.478",
    ),
)  # fmt: skip
