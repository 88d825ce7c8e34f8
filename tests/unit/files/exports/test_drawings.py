"""DXF and SVG for other programs: what they hold, and that it is what was meant."""

from __future__ import annotations

import io
import math
import re
from xml.etree.ElementTree import fromstring

import ezdxf
import pytest
from ezdxf import recover

from profilestack.files.exports.dxf import VERSIONS, dxf_bytes, polyline_of
from profilestack.files.exports.layered import LONGEST_NAME, ascii_text, layer_names
from profilestack.files.exports.svg import path_data, svg_bytes, svg_size
from profilestack.geometry.path import Arc, Path
from profilestack.stack import CurvedRun, Setup, StraightRun, TurnedRun
from tests.shop import board, core_box, cut, lines, straight
from tests.unit.files.exports.reading_back import (
    EXAMPLES,
    apart,
    drawn,
    example,
    layer,
    read_layer,
)

INCH = 25.4


def document(data: bytes):
    """The drawing as a general library reads it, without anything to mend."""
    read, auditor = recover.read(io.BytesIO(data))
    assert not auditor.has_errors
    assert not auditor.has_fixes
    return read


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("kind", ["dxf", "svg"])
def test_sections_are_read_back_as_they_are(name: str, kind: str):
    drawing = drawn(example(name))
    data = dxf_bytes(drawing) if kind == "dxf" else svg_bytes(drawing)
    for word in ("SECTION", "BLANK", *(["TARGET"] if b"TARGET" in data else [])):
        paths, chains = layer(drawing, word), read_layer(data, word)
        assert len(chains) == len(paths)
        # SVG's numbers have 4 decimals; halfway round a circle 0.00005 may become 0.0001
        assert apart(paths, chains) <= (1e-6 if kind == "dxf" else 2e-4)


@pytest.mark.parametrize("name", EXAMPLES)
def test_arcs_stay_arcs_and_pieces_stay_few(name: str):
    drawing = drawn(example(name))
    for path, chain in zip(
        layer(drawing, "SECTION"), read_layer(dxf_bytes(drawing), "SECTION"), strict=True
    ):
        pieces = path.segments
        assert len(chain.pieces) == len(pieces)
        for given, read in zip(pieces, chain.pieces, strict=True):
            assert type(given) is type(read)
            if isinstance(given, Arc) and isinstance(read, Arc):
                assert read.radius == pytest.approx(given.radius, abs=1e-6)
                assert read.turn == given.turn


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_version_holds_the_same(version, units: str):
    drawing = drawn(example("cornice/crown"), units)
    data = dxf_bytes(drawing, version)
    assert data.isascii()
    assert data == dxf_bytes(drawing, version)
    read = document(data)
    assert read.dxfversion == {"R12": "AC1009", "R2000": "AC1015", "R2010": "AC1024"}[version]
    if version != "R12":  # R12 has no variable for it
        # reference.md section 9: $INSUNITS 1 inches, 4 mm
        assert read.header["$INSUNITS"] == {"in": 1, "mm": 4}[units]
        assert read.header["$MEASUREMENT"] == {"in": 0, "mm": 1}[units]
    kinds = {entity.dxftype() for entity in read.modelspace()}
    assert kinds == {"POLYLINE" if version == "R12" else "LWPOLYLINE", "TEXT"}
    chains = read_layer(data, "SECTION", units if version == "R12" else None)
    assert apart(layer(drawing, "SECTION"), chains) <= 1e-6


def test_contours_are_closed_and_targets_stay_open():
    read = document(dxf_bytes(drawn(example("cornice/crown"))))
    space = read.modelspace()
    (section,) = space.query('LWPOLYLINE[layer=="SECTION"]')
    points = list(section.get_points("xy"))
    assert section.closed
    assert points[0] != points[-1]
    (target,) = space.query('LWPOLYLINE[layer=="TARGET"]')
    assert not target.closed


def test_without_bulges_there_are_only_straight_pieces():
    drawing = drawn(example("ogee/small"))
    data = dxf_bytes(drawing, polylines=True)
    for polyline in document(data).modelspace().query("LWPOLYLINE"):
        assert all(bulge == 0.0 for (bulge,) in polyline.get_points("b"))
    assert 1e-4 < apart(layer(drawing, "SECTION"), read_layer(data, "SECTION")) <= 0.001


def test_in_inches_the_flattening_is_still_a_thousandth_of_a_millimetre():
    drawing = drawn(example("ogee/small"), "in")
    data = dxf_bytes(drawing, polylines=True)
    assert 1e-4 < apart(layer(drawing, "SECTION"), read_layer(data, "SECTION")) <= 0.001


@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_check_line_is_100_mm_in_any_units(units: str):
    read = document(dxf_bytes(drawn(example("ogee/small"), units)))
    (check,) = read.modelspace().query('LWPOLYLINE[layer=="CHECK"]')
    (x0, y0), (x1, y1) = check.get_points("xy")
    unit = {"mm": 1.0, "in": INCH}[units]
    assert (x1 - x0) * unit == pytest.approx(100.0, abs=1e-9)
    assert y0 == y1


def test_the_text_says_unit_origin_and_direction():
    read = document(dxf_bytes(drawn(example("cornice/crown"))))
    told = " ".join(text.dxf.text for text in read.modelspace().query("TEXT"))
    assert "Units: millimetres." in told
    assert "origin (0, 0) at the lower left of the blank's box" in told
    assert "seen from the left end" in told
    assert "Plan, setup tipped, turned by -45 degrees" in told


def test_axes_lie_where_the_passes_are_each_bit_on_its_layer():
    placed = (core_box(12.0), 20.0, 4.0), (straight(8.0), 40.0, 5.0, {"count": 3, "pitch": 5.0})
    drawing = drawn(cut(*placed, run=StraightRun(500.0)), show="plan")
    assert layer(drawing, "AXIS_CORE_BOX_12") == (Path((20.0, 0.0)).line((20.0, 500.0)),)
    starts = [path.start for path in layer(drawing, "AXIS_STRAIGHT_8")]
    assert starts == [(40.0, 0.0), (45.0, 0.0), (50.0, 0.0)]
    (plan,) = layer(drawing, "PLAN")
    assert plan.signed_area == pytest.approx(60.0 * 500.0)


def test_stopped_passes_are_drawn_from_where_to_where():
    keys = {"begin": 60.0, "end": 440.0}
    drawing = drawn(cut((core_box(12.0), 20.0, 4.0, keys), run=StraightRun(500.0)), show="plan")
    (axis,) = layer(drawing, "AXIS_CORE_BOX_12")
    assert (axis.start, axis.end) == ((20.0, 60.0), (20.0, 440.0))


def test_axes_of_a_bend_are_arcs_about_its_middle():
    drawing = drawn(cut((core_box(12.0), 20.0, 4.0), run=CurvedRun(900.0, 60.0)), show="plan")
    ((arc,),) = (path.segments for path in layer(drawing, "AXIS_CORE_BOX_12"))
    assert isinstance(arc, Arc)
    assert arc.radius == pytest.approx(920.0)
    assert arc.center == pytest.approx((-900.0, 0.0))
    assert math.degrees(arc.sweep) == pytest.approx(60.0)
    (plan,) = layer(drawing, "PLAN")
    # Pappus in the plane: width x the path of its middle, (900 + 30) x 60 degrees
    assert plan.signed_area == pytest.approx(60.0 * 930.0 * math.radians(60.0))


def test_a_ring_is_drawn_whole():
    drawing = drawn(cut((core_box(12.0), 20.0, 4.0), run=CurvedRun(300.0, 360.0)), show="plan")
    chains = read_layer(dxf_bytes(drawing), "AXIS_CORE_BOX_12")
    assert apart(layer(drawing, "AXIS_CORE_BOX_12"), chains) <= 1e-6
    assert sum(piece.length for piece in chains[0].pieces) == pytest.approx(math.tau * 320.0)
    outer, inner = layer(drawing, "PLAN")
    areas = outer.signed_area, inner.signed_area
    assert areas == pytest.approx((math.pi * 360.0**2, -math.pi * 300.0**2))


def test_a_turned_part_shows_where_its_bits_stand():
    drawing = drawn(cut((core_box(12.0), 20.0, 4.0), run=TurnedRun()), show="plan")
    (axis,) = layer(drawing, "AXIS_CORE_BOX_12")
    assert (axis.start, axis.end) == ((20.0, -30.0), (20.0, 30.0))


def test_each_setup_has_its_own_plan_beside_the_section():
    setups = (Setup("back", 180.0),)
    placed = (core_box(12.0), 20.0, 4.0), (straight(8.0), 30.0, 5.0, {"setup": "back"})
    drawing = drawn(cut(*placed, setups=setups, run=StraightRun(500.0)))
    starts = [path.start[0] for path in layer(drawing, "PLAN")]
    assert starts == [60.0 + 50.0, 60.0 + 50.0 + 60.0 + 50.0]
    (axis,) = layer(drawing, "AXIS_STRAIGHT_8")
    assert axis.start[0] == starts[1] + 30.0


def test_a_bend_does_not_lie_over_the_section():
    drawing = drawn(cut((core_box(12.0), 20.0, 4.0), run=CurvedRun(200.0, 300.0)))
    (plan,) = layer(drawing, "PLAN")
    assert plan.flatten(0.1)[:, 0].min() == pytest.approx(110.0, abs=0.2)


def test_passes_that_are_off_and_missing_targets_leave_nothing():
    drawing = drawn(cut((core_box(12.0), 20.0, 4.0, {"on": False})))
    assert [each.name for each in drawing.layers] == ["BLANK", "SECTION", "PLAN", "CHECK"]
    with_target = drawn(cut((core_box(12.0), 20.0, 4.0), target=lines((0.0, 30.0), (60.0, 30.0))))
    assert "TARGET" in [each.name for each in with_target.layers]


def test_layers_have_plain_different_names():
    words = ["Ümlaut/../x", "a b", "a-b", "A_B", "x" * 300, "y" * 300, "x" * 299, "", "日本"]
    names = layer_names(words, "AXIS_")
    assert len(set(names.values())) == len(words)
    for name in names.values():
        assert re.fullmatch(r"[A-Z0-9_]+", name)
        assert len(name) <= LONGEST_NAME


def test_text_of_other_alphabets_and_controls_is_made_plain():
    assert ascii_text("Crown\n\x1b[31m été – 日本") == "Crown [31m ?t? ? ??"
    assert len(ascii_text("x" * 1000)) == 200


def test_hostile_titles_change_nothing_but_the_title():
    title = '../x </title><script> & "q" ' + "x" * 300
    done = cut((core_box(12.0), 20.0, 4.0), title=title)
    root = fromstring(svg_bytes(drawn(done)))
    (told,) = [each.text for each in root if each.tag.endswith("title")]
    assert told == ascii_text(title)
    assert not any("script" in each.tag for each in root.iter())
    document(dxf_bytes(drawn(done)))


def test_an_svg_is_at_true_size_in_millimetres():
    drawing = drawn(example("ogee/small"))
    root = fromstring(svg_bytes(drawing))
    width, height = svg_size(drawing)
    assert root.get("width") == f"{round(width, 4):g}mm"
    left, top, wide, high = map(float, root.get("viewBox").split())
    assert (wide, high) == pytest.approx((width, height), abs=1e-4)
    for path in root.iter("{http://www.w3.org/2000/svg}path"):
        numbers = re.findall(r"-?\d+(?:\.\d+)?", path.get("d"))
        assert all(len(number.partition(".")[2]) <= 4 for number in numbers)
    assert left < 0.0 < left + wide
    assert top < 0.0 < top + high


def test_svg_writes_arcs_with_blanks_between_flags_and_y_downward():
    path = Path((0.0, 0.0)).arc((10.0, 10.0), (0.0, 10.0), "ccw").line((0.0, 10.0))
    assert path_data(path.line((0.0, 0.0))) == "M 0 0 A 10 10 0 0 0 10 -10 L 0 -10 Z"
    assert path_data(Path((0.0, 0.0)).line((1.5, -2.0))) == "M 0 0 L 1.5 2"


def test_bulges_are_tangents_of_a_quarter_of_the_turn():
    quarter = Path((10.0, 0.0)).arc((0.0, 10.0), (0.0, 0.0), "ccw")
    assert polyline_of(quarter) == [
        (10.0, 0.0, pytest.approx(math.tan(math.radians(22.5)))),
        (0.0, 10.0, 0.0),
    ]
    circle = Path((10.0, 0.0)).arc((10.0, 0.0), (0.0, 0.0), "cw")
    assert [bulge for *_, bulge in polyline_of(circle)] == pytest.approx([-1.0, -1.0])


def test_the_library_s_own_settings_stay_as_they_were():
    before = ezdxf.options.write_fixed_meta_data_for_testing
    dxf_bytes(drawn(cut((core_box(12.0), 20.0, 4.0), blank=board())))
    assert ezdxf.options.write_fixed_meta_data_for_testing == before
