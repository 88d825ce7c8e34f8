"""Figures of the shop: the inch, speeds, paper."""

from __future__ import annotations

import math

from profilestack.cutting.cautions.bit_limits import usual_top_speed
from profilestack.drawing.fonts import POINT
from profilestack.drawing.template.options import PAPERS
from profilestack.units import from_units, parse_length
from tests.validation.check import Check

SPEEDS = "general safety guides for routers: usual top speed by diameter"
RIM = "rim speed v = pi D n / 60000"


def inches(value: float) -> float:
    return from_units(value, "in")


def rim_speed(diameter: float) -> float:
    """Of a bit at its usual top speed [m/s]."""
    return math.pi * diameter * usual_top_speed(diameter) / 60_000.0


def points(paper: str, side: int) -> float:
    """A side of a paper in a PDF's units."""
    return PAPERS[paper][side] / POINT


def paper_rows() -> tuple[Check, ...]:
    rows = []
    for paper, sizes in (
        ("A4", (210.0, 297.0)),
        ("A3", (297.0, 420.0)),
        ("Letter", (215.9, 279.4)),
        ("Tabloid", (279.4, 431.8)),
    ):
        standard = "ISO 216" if paper.startswith("A") else "ASME Y14.1"
        for side, word in enumerate(("width", "height")):
            rows.append(
                Check("Paper", f"{paper}: {word}", "mm", standard, "read", sizes[side],
                      lambda paper=paper, side=side: PAPERS[paper][side], 1e-9, "only rounding")
            )  # fmt: skip
    return tuple(rows)


UNIT = "a PDF unit is 1/72 in"

CHECKS = (
    *(
        Check("The inch", text, "mm", "1 in = 25.4 mm exactly", "read", expected,
              lambda text=text: parse_length(text, None), 1e-12, "exact fractions: only rounding")
        for text, expected in (("1 in", 25.4), ("1 3/8 in", 1.375 * 25.4), ("2 ft 3 in", 27 * 25.4))
    ),
    *(
        Check("Usual top speeds", f"bit of {size:g} in", "rpm", SPEEDS, "secondary", speed,
              lambda size=size: float(usual_top_speed(inches(size))), 0.0, "a table")
        for size, speed in ((1.0, 24_000), (2.0, 18_000), (2.5, 16_000), (3.5, 12_000))
    ),
    Check("Usual top speeds", "rim speed of 3.5 in at its usual top speed", "m/s", RIM, "computed",
          math.pi * 88.9 * 12_000 / 60_000, lambda: rim_speed(inches(3.5)), 1e-9,
          "only rounding", "55.8575174"),
    Check("Usual top speeds", "rim speed of 5 in at its usual top speed", "m/s",
          RIM + "; beyond the table the last rim speed holds", "computed",
          math.pi * 88.9 * 12_000 / 60_000, lambda: rim_speed(inches(5.0)),
          math.pi * 127.0 * 100 / 60_000, "the speed is cut to hundreds of rpm"),
    *paper_rows(),
    Check("Paper", "Letter: width in PDF units", "pt", UNIT, "computed", 612.0,
          lambda: points("Letter", 0), 1e-9, "only rounding", "612"),
    Check("Paper", "Letter: height in PDF units", "pt", UNIT, "computed", 792.0,
          lambda: points("Letter", 1), 1e-9, "only rounding", "792"),
    Check("Paper", "A4: width in PDF units", "pt", UNIT, "computed", 210 / 25.4 * 72,
          lambda: points("A4", 0), 1e-9, "only rounding", "595.275591"),
    Check("Paper", "A4: height in PDF units", "pt", UNIT, "computed", 297 / 25.4 * 72,
          lambda: points("A4", 1), 1e-9, "only rounding", "841.889764"),
    Check("Paper", "a bar of 100 mm in PDF units", "pt", UNIT, "computed", 100 / 25.4 * 72,
          lambda: 100.0 / POINT, 1e-9, "only rounding", "283.464567"),
)  # fmt: skip
