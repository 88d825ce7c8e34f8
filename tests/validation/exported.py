"""What is written for other programs, read by general-purpose libraries."""

from __future__ import annotations

import io
import math
import re
from functools import lru_cache

from ezdxf import recover
from pypdf import PdfReader

from profilestack.cutting.comparison import compare
from profilestack.cutting.outline import outline_of
from profilestack.drawing.pages import pages_bytes
from profilestack.drawing.report.report import report_pages
from profilestack.files.exports.dxf import dxf_bytes
from profilestack.files.exports.layered import layered_drawing
from profilestack.files.exports.machine_code import CodeWishes, code_bytes
from profilestack.geometry.path import Arc
from profilestack.planning.toolpath.programs import programs_of
from profilestack.stack import CurvedRun
from profilestack.units import from_units, to_units
from tests.plans import plan_of
from tests.shop import board, core_box, cut, stack_of
from tests.validation.check import CHORD, Check
from tests.validation.single_cuts import SEGMENT, segment_area

WORDS = {"G0", "G1", "G2", "G3", "G17", "G20", "G21", "G54", "G90", "G91", "G94",
         "M3", "M5", "M6", "M2"}  # fmt: skip
OPEN_WORDS = "NIST RS274NGC report: the open words"
INSUNITS = "DXF reference: $INSUNITS 1 inches, 4 mm"
NOSE = "core box R 0.5 in, 0.25 in deep"


def inches(value: float) -> float:
    return from_units(value, "in")


@lru_cache(maxsize=1)
def one_groove():
    """R 0.5 in, 0.25 in deep, in a board of 3 x 1.5 in."""
    blank = board(inches(3.0), inches(1.5))
    return cut((core_box(inches(1.0)), inches(1.5), inches(0.25)), blank=blank, chord=CHORD)


def exact_removed_area() -> float:
    """What the exact outline lacks of the board [mm2]."""
    (path,) = outline_of(one_groove())
    return inches(3.0) * inches(1.5) - path.signed_area


def exact_cusp() -> float:
    """Between two such grooves 0.5 in apart: height of the arcs' joint above their floor [in]."""
    nose = core_box(inches(1.0))
    placed = [(nose, inches(place), inches(0.25)) for place in (1.25, 1.75)]
    done = cut(*placed, blank=board(inches(3.0), inches(1.5)), chord=CHORD)
    (path,) = outline_of(done)
    first, second = (piece for piece in path.segments if isinstance(piece, Arc))
    joint = ({first.start, first.end} & {second.start, second.end}).pop()
    return to_units(joint[1] - inches(1.25), "in")


def groove_in_dxf(units: str):
    done = one_groove()
    data = dxf_bytes(layered_drawing(done, outline_of(done), units))
    document, auditor = recover.read(io.BytesIO(data))
    assert not auditor.has_errors
    return document


def width_in_dxf() -> float:
    """The chord of the one bulge on the section's layer, in the file's own inches."""
    (section,) = groove_in_dxf("in").modelspace().query('LWPOLYLINE[layer=="SECTION"]')
    points = list(section.get_points("xyb"))
    (k,) = (k for k, point in enumerate(points) if point[2] != 0.0)
    after = points[(k + 1) % len(points)]
    return math.dist(points[k][:2], after[:2])


def bulge_in_dxf() -> float:
    (section,) = groove_in_dxf("in").modelspace().query('LWPOLYLINE[layer=="SECTION"]')
    return max(abs(point[2]) for point in section.get_points("xyb"))


def report_side(paper: str, side: int) -> float:
    stack, bits = stack_of((core_box(12.0), 30.0, 4.0))
    plan = plan_of(stack, bits)
    pages = report_pages(plan.cut, compare(plan.cut), plan, "mm", paper)
    page = PdfReader(io.BytesIO(pages_bytes(pages, "x"))).pages[0]
    return float(page.mediabox[2 + side])


def foreign_words() -> float:
    """G and M words of a program on a bend that are not in the list."""
    stack, bits = stack_of((core_box(12.0), 30.0, 4.0), run=CurvedRun(900.0, 60.0))
    plan = plan_of(stack, bits)
    (program,) = programs_of(plan)
    text = code_bytes(program, plan, (), CodeWishes("mm")).decode("ascii")
    found = set(re.findall(r"[GM]\d+", re.sub(r"\([^()]*\)", "", text)))
    assert {"G1", "G3", "M3"} <= found
    return float(len(found - WORDS))


def units_in_dxf(units: str) -> float:
    return float(groove_in_dxf(units).header["$INSUNITS"])


TOPIC = "Exports"

CHECKS = (
    Check(TOPIC, f"{NOSE}: area outside the exact outline", "mm2", SEGMENT, "computed",
          segment_area(0.5, 0.25) * inches(1.0) ** 2, exact_removed_area, 1e-9,
          "lines and arcs: only rounding", "99.0618743"),
    Check(TOPIC, "two of them 0.5 in apart: joint of the exact arcs above the floor", "in",
          "h = R - sqrt(R^2 - (s/2)^2)", "computed", 0.5 - math.sqrt(0.25 - 0.0625), exact_cusp,
          1e-10, "lines and arcs: only rounding", "0.0669872981"),
    Check(TOPIC, f"{NOSE}: width in the DXF, read by ezdxf", "in", SEGMENT, "computed",
          math.sqrt(3.0) / 2.0, width_in_dxf, 1e-9, "only rounding", "0.866025404"),
    Check(TOPIC, f"{NOSE}: bulge in the DXF, read by ezdxf", "",
          "bulge = tan(angle / 4), here 120 degrees", "computed",
          math.tan(math.radians(30.0)), bulge_in_dxf, 1e-9, "only rounding"),
    *(
        Check(TOPIC, f"$INSUNITS of a DXF in {units}, read by ezdxf", "", INSUNITS, "memory",
              code, lambda units=units: units_in_dxf(units), 0.0, "a code")
        for units, code in (("mm", 4.0), ("in", 1.0))
    ),
    *(
        Check(TOPIC, f"report on {paper}, lying: {word}, read by pypdf", "pt",
              "a PDF unit is 1/72 in", "computed", value,
              lambda paper=paper, side=side: report_side(paper, side), 1e-3,
              "the file's numbers are rounded", printed)
        for paper, side, word, value, printed in (
            ("A4", 0, "width", 297 / 25.4 * 72, "841.889764"),
            ("A4", 1, "height", 210 / 25.4 * 72, "595.275591"),
            ("Letter", 0, "width", 792.0, "792"),
        )
    ),
    Check(TOPIC, "words of machine code beyond the open ones", "", OPEN_WORDS, "memory", 0.0,
          foreign_words, 0.0, "a count"),
)  # fmt: skip
