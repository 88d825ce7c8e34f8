"""Speed, chip, power and removal of planned steps."""

from __future__ import annotations

import math
from dataclasses import replace

from profilestack.bits.bit import Bit
from profilestack.cutting.cut import CHORD
from profilestack.planning.plan import Step
from profilestack.planning.planner import plan_stack
from profilestack.planning.shop import USUAL_SHOP
from profilestack.planning.species import Species, species_called
from profilestack.planning.speeds import feed_mark, feed_of, largest_chip, mean_chip
from profilestack.stack import Blank, CurvedRun, Rectangle, Run, StraightRun, TurnedRun
from profilestack.units import from_units, to_units
from tests.shop import core_box, stack_of, straight
from tests.validation.check import Check, arc_area_slack
from tests.validation.single_cuts import SEGMENT, segment_area
from tests.validation.volumes import PAPPUS

CHIP = (
    "H. El-Hofy, Fundamentals of Machining Processes, sec. 6.3.1, p. 174: "
    "2 fz sqrt((ae/D)(1 - ae/D)); mean fz (2 ae/D)/acos(1 - 2 ae/D)"
)
FORCE = "B. Palubicki, Materials 14, 2021, 2208: 32.0 N/mm2; 1 N/mm2 = 1 J/cm3"
RIM = "rim speed v = pi D n / 60000; top speeds of general safety guides"
FEED = "feed = rpm x flutes x feed per tooth (general machining texts)"
MARKS = "feed marks: R - sqrt(R^2 - f^2/4), the same circle as the scallop's"
GRAVITY = "USDA Wood Handbook, FPL-GTR-190, ch. 5: 1000 x G x 1.12 kg/m3"
TOPIC = "Planned steps"

R, DEPTH = 12.7, 6.35
AREA = segment_area(R, DEPTH)
SHOP = replace(
    USUAL_SHOP, rough_feed=3000.0, species=(Species("as measured", 0.6, force=32.0),),
    machine=replace(USUAL_SHOP.machine, collets=(6.35, 16.0)),
)  # fmt: skip


def planned(single: Bit, offset: float, depth: float, run: Run | None = None,
            blank: Blank | None = None, relief: bool = True) -> tuple[Step, ...]:  # fmt: skip
    """The steps of one pass in a board."""
    blank = replace(blank or Blank(Rectangle(100.0, 40.0)), species="as measured")
    run = run or StraightRun(1000.0)
    stack, bits = stack_of((single, offset, depth, {"relief": relief}), blank=blank, run=run)
    return plan_stack(stack, bits, SHOP).steps


def worked_power() -> float:
    """The half inch radius a quarter inch deep at 3 m/min, its two depths together."""
    steps = planned(core_box(2 * R, shank=16.0), 50.0, DEPTH)
    assert {step.feed for step in steps} == {3000.0}
    return sum(step.power for step in steps)


def planned_rim(size: float) -> float:
    """The rim speed that is planned for a bit of ``size`` inches [m/s]."""
    diameter = from_units(size, "in")
    machine = replace(SHOP.machine, slowest=1000.0)
    fast = replace(SHOP, finish_feed=1e4, machine=replace(machine, largest_feed=1e5))
    stack, bits = stack_of((straight(diameter), 50.0, 1.0, {"relief": True}))
    (step,) = plan_stack(stack, bits, fast).steps
    return math.pi * diameter * step.rpm / 60_000.0


def planned_thinning() -> float:
    """The thickest chip of a side cut a quarter of the diameter deep, per feed per tooth."""
    (step,) = planned(straight(12.7), -12.7 / 2 + 3.175, 4.0)
    return step.chip / step.tooth


def centroid_below(depth: float) -> float:
    """How far below its chord the centroid of a segment of R lies [mm]."""
    half = math.acos((R - depth) / R)
    from_center = 4 * R * math.sin(half) ** 3 / (3 * (2 * half - math.sin(2 * half)))
    return from_center - (R - depth)


def curved_step(place: int) -> float:
    """Volume of a step over 90 degrees, the bit's axis on a radius of 152.4 [mm3]."""
    run = CurvedRun(152.4 - 50.0, 90.0)
    return planned(core_box(2 * R), 50.0, DEPTH, run, relief=False)[place].removed_volume


def turned_step(place: int) -> float:
    """Volume of a step turned into a cylinder of radius 40 [mm3]."""
    return planned(core_box(2 * R), 50.0, DEPTH, TurnedRun(), relief=False)[place].removed_volume


def curved_volume(depth: float) -> float:
    return segment_area(R, depth) * 152.4 * math.pi / 2


def turned_volume(depth: float) -> float:
    return segment_area(R, depth) * 2 * math.pi * (40.0 - centroid_below(depth))


FIRST = 5.8
"""What the first of two depths is: the last one takes 0.5 to 0.6 of 6.35."""

ARC = 2 * R * math.acos((R - DEPTH) / R)
SLACK = arc_area_slack(ARC, CHORD)
CHORDS = "2/3 x chord error x arc length"
EXACT = "only rounding"

CHECKS = (
    Check(TOPIC, "power of R 0.5 in, 0.25 in deep, in two depths at 3 m/min, 32.0 N/mm2", "W",
          f"{FORCE} (read); {SEGMENT}", "computed", 32.0 * AREA * 3000.0 / 60_000.0, worked_power,
          32.0 * SLACK * 3000.0 / 60_000.0, CHORDS + " x force x feed", "158.498999"),
    Check(TOPIC, "rim speed of a 3.5 in bit as planned", "m/s", RIM, "computed",
          math.pi * 88.9 * 12_000 / 60_000, lambda: planned_rim(3.5), 1e-9, EXACT, "55.8575174"),
    Check(TOPIC, "feed at 18,000 rpm, 2 flutes, 0.1 mm a tooth", "mm/min", FEED, "read",
          18_000 * 2 * 0.1, lambda: feed_of(18_000.0, 2, 0.1), 1e-9, EXACT, "3600"),
    Check(TOPIC, "thickest chip, D 12.7, 3.175 deep, 0.25 a tooth", "mm", CHIP + " (read in part)",
          "computed", 2 * 0.25 * math.sqrt(0.25 * 0.75), lambda: largest_chip(0.25, 3.175, 12.7),
          1e-12, EXACT, "0.216506351"),
    Check(TOPIC, "mean chip of the same cut", "mm", CHIP + " (read in part)", "computed",
          0.25 * 0.5 / math.acos(0.5), lambda: mean_chip(0.25, 3.175, 12.7), 1e-12, EXACT,
          "0.119366207"),
    Check(TOPIC, "thickest chip of a planned side cut, a quarter of D deep, per feed per tooth",
          "", CHIP + " (read in part)", "computed", math.sqrt(0.75), planned_thinning, 1e-9,
          "straight edges: only rounding", "0.866025"),
    Check(TOPIC, "depth of the marks, D 0.5 in, 20 marks an inch", "in", MARKS, "computed",
          0.25 - math.sqrt(0.25**2 - 0.05**2 / 4),
          lambda: to_units(feed_mark(6.35, 25.4 / 20), "in"), 1e-12, EXACT, "0.00125314"),
    Check(TOPIC, "density of yellow-poplar at 12 % moisture", "kg/m3", GRAVITY, "secondary",
          1000 * 0.42 * 1.12, lambda: species_called("yellow-poplar").density, 1e-9, EXACT,
          "470.4"),
    Check(TOPIC, "density of white oak at 12 % moisture", "kg/m3", GRAVITY, "read",
          1000 * 0.68 * 1.12, lambda: species_called("white-oak").density, 1e-9, EXACT, "761.6"),
    *(
        Check(TOPIC, f"core box R 0.5 in, {which} of two depths, along 90 degrees of 6 in", "mm3",
              PAPPUS + " (read); area as above", "computed", expected,
              lambda place=place: curved_step(place), SLACK * 152.4 * math.pi / 2,
              CHORDS + " x path of the centroid")
        for place, which, expected in (
            (0, "first", curved_volume(FIRST)),
            (1, "last", curved_volume(DEPTH) - curved_volume(FIRST)),
        )
    ),
    *(
        Check(TOPIC, f"core box R 0.5 in, {which} of two depths, turned into a radius of 40", "mm3",
              PAPPUS + " (read); centroid of a segment 4 R sin^3(a)/(3 (2a - sin 2a)) from the "
              "centre", "computed", expected, lambda place=place: turned_step(place),
              SLACK * 2 * math.pi * 40.0, CHORDS + " x path of the centroid")
        for place, which, expected in (
            (0, "first", turned_volume(FIRST)),
            (1, "last", turned_volume(DEPTH) - turned_volume(FIRST)),
        )
    ),
)  # fmt: skip
