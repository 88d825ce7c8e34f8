from __future__ import annotations

import math

import numpy as np
import pytest

from profilestack.errors import InputError
from profilestack.files.targets.dxf import read_dxf
from profilestack.files.targets.wishes import ReadingWishes
from profilestack.geometry.path import Arc, Line
from profilestack.targets.joining import joined
from profilestack.targets.tracing import Chain, Curve, Tracing
from tests.unit.files.targets.drawings import dxf_bytes, dxf_of_pieces, new_dxf
from tests.unit.targets.profiles import STEPPED, farthest

INCH = 25.4
QUARTER = math.tan(math.pi / 8)


def read(data: bytes, **wishes: object) -> Tracing:
    return read_dxf(data, ReadingWishes(**wishes))  # type: ignore[arg-type]


def refused(data: bytes, **wishes: object) -> str:
    with pytest.raises(InputError) as caught:
        read(data, **wishes)
    return str(caught.value)


def only(data: bytes, **wishes: object) -> Chain:
    (chain,) = read(data, **wishes).chains
    return chain


LINE = dxf_of_pieces(STEPPED, "R2010")


@pytest.mark.parametrize("version", ["R12", "R2000", "R2004", "R2010", "R2018"])
def test_lines_and_arcs_of_every_version(version: str) -> None:
    tracing = read(dxf_of_pieces(STEPPED, version), units="mm")
    (chain,) = joined(tracing.chains).chains
    assert [type(piece) for piece in chain.pieces] == [type(piece) for piece in STEPPED.segments]
    assert chain.start == pytest.approx((0.0, 45.0), abs=1e-9)
    assert chain.end == pytest.approx((70.0, 5.0), abs=1e-9)
    assert farthest(chain.flatten()[::40], STEPPED) < 1e-6


def test_carriage_returns_do_no_harm() -> None:
    assert len(read(LINE.replace(b"\n", b"\r\n")).chains) == 6


def test_units_of_the_drawing_and_of_the_call() -> None:
    inches = dxf_of_pieces(STEPPED, "R2010", 1, 1.0 / INCH)
    tracing = read(inches)
    assert tracing.units == "in"
    assert tracing.chains[0].end == pytest.approx((10.0, 45.0))
    centimetres = read(dxf_of_pieces(STEPPED, "R2010", 5, 0.1))
    assert centimetres.units == "mm"
    assert centimetres.chains[0].end == pytest.approx((10.0, 45.0))
    overruled = read(LINE, units="in")
    assert overruled.chains[0].end == pytest.approx((10.0 * INCH, 45.0 * INCH))
    assert overruled.notes == ("the drawing says one unit is 1 mm; it was read as in",)


@pytest.mark.parametrize(("version", "units"), [("R12", 4), ("R2010", 0), ("R2010", 17)])
def test_a_drawing_without_usable_units_is_asked_about(version: str, units: int) -> None:
    told = refused(dxf_of_pieces(STEPPED, version, units))
    assert "units: " in told
    assert "--units-of-file" in told


def test_polylines_with_bulges_keep_their_arcs() -> None:
    points = [(30.0, 25.0, 0.0), (40.0, 25.0, QUARTER), (50.0, 15.0, -QUARTER), (60.0, 5.0, 0.0)]
    light, heavy = new_dxf(), new_dxf()
    light.modelspace().add_lwpolyline(points, format="xyb")
    heavy.modelspace().add_polyline2d(points, format="xyb")
    for drawing in (light, heavy):
        line, hollow, round_ = only(dxf_bytes(drawing)).pieces
        assert isinstance(line, Line)
        assert isinstance(hollow, Arc)
        assert isinstance(round_, Arc)
        assert hollow.center == pytest.approx((50.0, 25.0), abs=1e-9)
        assert (hollow.turn, round_.turn) == ("ccw", "cw")
        assert round_.center == pytest.approx((50.0, 5.0), abs=1e-9)


def test_closed_polylines_come_back_to_their_start() -> None:
    drawing = new_dxf()
    drawing.modelspace().add_lwpolyline([(0, 0), (10, 0), (10, 5)], close=True)
    assert only(dxf_bytes(drawing)).is_closed
    space = new_dxf()
    space.modelspace().add_polyline3d([(0, 0, 0), (10, 0, 1), (10, 5, 2)], close=True)
    assert only(dxf_bytes(space)).is_closed


def test_circles_and_round_ellipses_are_arcs() -> None:
    drawing = new_dxf()
    drawing.modelspace().add_circle((5.0, 6.0), 4.0)
    drawing.modelspace().add_ellipse((5.0, 6.0), (0.0, 4.0), 1.0, 0.0, math.pi / 2)
    full, quarter = read(dxf_bytes(drawing)).chains
    assert full.is_closed
    assert full.length == pytest.approx(8.0 * math.pi)
    (arc,) = quarter.pieces
    assert isinstance(arc, Arc)
    assert arc.start == pytest.approx((5.0, 10.0))
    assert arc.end == pytest.approx((1.0, 6.0))
    assert quarter.length == pytest.approx(2.0 * math.pi)


def test_an_oval_lies_on_its_equation() -> None:
    drawing = new_dxf()
    drawing.modelspace().add_ellipse((1.0, 2.0), (30.0, 0.0), 0.6, 0.0, math.pi)
    (piece,) = only(dxf_bytes(drawing)).pieces
    assert isinstance(piece, Curve)
    x, z = (piece.points - np.array([1.0, 2.0])).T
    assert (x / 30.0) ** 2 + (z / 18.0) ** 2 == pytest.approx(1.0)
    assert z.min() > -1e-9
    assert piece.start == pytest.approx((31.0, 2.0))


def test_a_spline_by_control_points_is_the_bezier_curve_it_says() -> None:
    drawing = new_dxf()
    control = [(0.0, 0.0), (10.0, 20.0), (20.0, -20.0), (30.0, 0.0)]
    drawing.modelspace().add_open_spline([(*p, 0.0) for p in control], degree=3)
    (piece,) = only(dxf_bytes(drawing)).pieces
    assert isinstance(piece, Curve)
    t = np.linspace(0.0, 1.0, 101)[:, None]
    a, b, c, d = (np.array([p]) for p in control)
    curve = (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * d
    far = [np.hypot(*(piece.points - p).T).min() for p in curve]
    assert max(far) < 0.2  # the spacing of the points
    assert piece.start == (0.0, 0.0)
    assert piece.end == (30.0, 0.0)
    # the middle by symmetry
    assert np.hypot(*(piece.points - np.array([15.0, 0.0])).T).min() < 1e-9


def test_a_rational_spline_can_be_a_circle() -> None:
    drawing = new_dxf()
    control = [(5.0, 0.0, 0.0), (5.0, 5.0, 0.0), (0.0, 5.0, 0.0)]
    drawing.modelspace().add_rational_spline(control, [1.0, math.sqrt(0.5), 1.0], degree=2)
    (piece,) = only(dxf_bytes(drawing)).pieces
    assert isinstance(piece, Curve)
    assert np.hypot(*piece.points.T) == pytest.approx(5.0)


def test_a_spline_through_fit_points_passes_them() -> None:
    drawing = new_dxf()
    through = [(0.0, 0.0), (5.0, 5.0), (10.0, 0.0), (15.0, 3.0)]
    drawing.modelspace().add_spline(through)
    (piece,) = only(dxf_bytes(drawing)).pieces
    assert isinstance(piece, Curve)
    for point in through:
        assert np.hypot(*(piece.points - np.array(point)).T).min() < 1e-6


def test_copies_of_blocks_are_placed_turned_mirrored_and_repeated() -> None:
    drawing = new_dxf()
    block = drawing.blocks.new("ROUND")
    block.add_arc((0.0, 0.0), 5.0, 0.0, 90.0)
    space = drawing.modelspace()
    space.add_blockref("ROUND", (10.0, 20.0), dxfattribs={"rotation": 90.0})
    space.add_blockref("ROUND", (10.0, 20.0), dxfattribs={"xscale": -1.0})
    space.add_blockref("ROUND", (0.0, 0.0), dxfattribs={"xscale": 2.0})
    space.add_blockref("ROUND", (0.0, 0.0), dxfattribs={"column_count": 3, "column_spacing": 11.0})
    chains = read(dxf_bytes(drawing)).chains
    assert len(chains) == 1 + 1 + 1 + 3
    turned, mirrored, oval, *row = chains
    assert {_near(turned.start), _near(turned.end)} == {(10.0, 25.0), (5.0, 20.0)}
    assert {_near(mirrored.start), _near(mirrored.end)} == {(10.0, 25.0), (5.0, 20.0)}
    assert isinstance(mirrored.pieces[0], Arc)
    assert isinstance(oval.pieces[0], Curve)
    assert {_near(oval.start), _near(oval.end)} == {(10.0, 0.0), (0.0, 5.0)}
    assert sorted(_near(chain.start)[0] for chain in row) == [5.0, 16.0, 27.0]


def _near(point: tuple[float, float]) -> tuple[float, float]:
    return (round(point[0], 6) + 0.0, round(point[1], 6) + 0.0)


def test_entities_drawn_from_behind_are_mirrored() -> None:
    drawing = new_dxf()
    drawing.modelspace().add_arc(
        (10.0, 0.0), 5.0, 0.0, 90.0, dxfattribs={"extrusion": (0.0, 0.0, -1.0)}
    )
    chain = only(dxf_bytes(drawing))
    assert _near(chain.start) == (-15.0, 0.0)
    assert _near(chain.end) == (-10.0, 5.0)
    (arc,) = chain.pieces
    assert isinstance(arc, Arc)
    assert arc.turn == "cw"


def test_entities_on_a_tilted_plane_are_seen_from_above() -> None:
    drawing = new_dxf()
    drawing.modelspace().add_circle((0, 0), 5.0, dxfattribs={"extrusion": (0.0, 1.0, 1.0)})
    across, up = np.ptp(only(dxf_bytes(drawing)).flatten(), axis=0)
    assert across == pytest.approx(10.0, abs=0.003)
    assert up == pytest.approx(10.0 * math.cos(math.pi / 4), abs=0.003)


def layered() -> bytes:
    drawing = new_dxf()
    drawing.layers.add("Profile")
    drawing.layers.add("Frame").off()
    space = drawing.modelspace()
    space.add_line((0, 0), (10, 5), dxfattribs={"layer": "Profile"})
    space.add_line((0, 0), (99, 0), dxfattribs={"layer": "Frame"})
    space.add_line((0, 9), (10, 9), dxfattribs={"layer": "Notes"})
    space.add_text("crown", dxfattribs={"layer": "Notes"})
    return dxf_bytes(drawing)


def test_layers_are_chosen_and_hidden_ones_left_out() -> None:
    assert only(layered(), layers=("profile",)).label == "layer Profile"
    assert only(layered(), layers=("Frame",)).end == (99.0, 0.0)
    everything = read(layered())
    assert [chain.label for chain in everything.chains] == ["layer Profile", "layer Notes"]
    assert everything.notes == (
        "left out: 1 TEXT",
        "left out: 1 on layers that are off or frozen",
    )
    told = refused(layered(), layers=("Profil",))
    assert "there is no layer 'Profil'" in told
    assert "did you mean 'Profile'?" in told


def test_blocks_on_layer_0_take_the_layer_they_are_shown_on() -> None:
    drawing = new_dxf()
    drawing.blocks.new("B").add_line((0, 0), (1, 1))
    drawing.modelspace().add_blockref("B", (0, 0), dxfattribs={"layer": "Profile"})
    assert only(dxf_bytes(drawing), layers=("Profile",)).label == "layer Profile"


def bomb(depth: int) -> bytes:
    """Each block holds ten of the one before."""
    drawing = new_dxf()
    drawing.blocks.new("B0").add_line((0, 0), (1, 1))
    for k in range(1, depth):
        block = drawing.blocks.new(f"B{k}")
        for i in range(10):
            block.add_blockref(f"B{k - 1}", (i, 0))
    drawing.modelspace().add_blockref(f"B{depth - 1}", (0, 0))
    return dxf_bytes(drawing)


def test_a_block_bomb_is_counted_not_unpacked() -> None:
    assert len(read(bomb(4)).chains) == 1000
    assert refused(bomb(12)) == (
        "the copies of block 'B5' would make 100000 lines and curves; expected at most 20000"
    )


def test_nine_million_copies_in_rows_are_refused() -> None:
    drawing = new_dxf()
    drawing.blocks.new("B").add_line((0, 0), (1, 1))
    rows = {"row_count": 3000, "column_count": 3000, "row_spacing": 1, "column_spacing": 1}
    drawing.modelspace().add_blockref("B", (0, 0), dxfattribs=rows)
    assert "would make 9000000 lines and curves" in refused(dxf_bytes(drawing))


def test_a_block_within_itself_is_refused() -> None:
    drawing = new_dxf()
    drawing.blocks.new("S").add_blockref("S", (0, 0))
    drawing.modelspace().add_blockref("S", (0, 0))
    assert refused(dxf_bytes(drawing)) == "block 'S' holds itself; expected blocks without a ring"


def test_blocks_too_deep_in_each_other_are_refused() -> None:
    drawing = new_dxf()
    drawing.blocks.new("B0").add_line((0, 0), (1, 1))
    for k in range(1, 80):
        drawing.blocks.new(f"B{k}").add_blockref(f"B{k - 1}", (0, 0))
    drawing.modelspace().add_blockref("B79", (0, 0))
    assert "deeper than 64" in refused(dxf_bytes(drawing))


@pytest.mark.parametrize("bulge", [1e7, 1e12, -1e12, 1e-8])
def test_huge_and_tiny_bulges_are_no_trouble(bulge: float) -> None:
    drawing = new_dxf()
    drawing.modelspace().add_lwpolyline([(0, 0, bulge), (1, 1, 0)], format="xyb")
    told = refused(dxf_bytes(drawing))
    assert "makes a radius of" in told
    assert "LWPOLYLINE on layer '0', handle" in told


def test_many_entities_are_refused() -> None:
    drawing = new_dxf()
    block = drawing.blocks.new("B")
    for k in range(201):
        block.add_point((k, 0))
    for k in range(100):
        drawing.modelspace().add_blockref("B", (k, 0))
    assert "shows more than 20000 lines and curves" in refused(dxf_bytes(drawing))


@pytest.mark.parametrize("value", [b"nan", b"inf", b"1e308", b"-1e40"])
def test_numbers_that_are_none_are_told_with_the_entity(value: bytes) -> None:
    drawing = new_dxf()
    drawing.modelspace().add_line((0, 0), (1, 5.125))
    spoiled = dxf_bytes(drawing).replace(b"\n5.125\n", b"\n" + value + b"\n")
    assert spoiled != dxf_bytes(drawing)
    told = refused(spoiled)
    assert "LINE on layer '0', handle" in told
    assert "not finite" in told


def test_a_spline_with_falling_knots_is_refused() -> None:
    drawing = new_dxf()
    spline = drawing.modelspace().add_open_spline([(k, k % 2, 0) for k in range(6)])
    spline.knots = [0, 0, 0, 0, 2, 1, 3, 3, 3, 3]
    told = refused(dxf_bytes(drawing))
    assert "degree 3, 6 control points, 10 knots make no curve" in told


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (LINE[: len(LINE) // 2], "is cut off: its last line is not EOF"),
        (b"\x89PNG\r\n\x1a\n", "it is a PNG picture"),
        (b"AC1032\0\0", "it is a DWG drawing"),
        (b"AutoCAD Binary DXF\r\n\x1a\0\0\0SECTION\0", "it is a binary DXF"),
        (b"%PDF-1.4", "it is a PDF"),
        (b"<?xml version='1.0'?><svg/>", "it is an XML file"),
        (b"just text\n", "is no DXF: no SECTION begins in it"),
        (b"\0\0\0\0", "is no DXF"),
        (b"  0\nSECTION\n  2\nENTITIES\n" + b"  0\nPOINT\n" * 100_001 + b"  0\nEOF\n", "parts"),
        (b"0\nSECTION\n2\nENTITIES\n" + b"10\n1.0\n" * 300_001 + b"0\nEOF\n", "600000 lines"),
        (b"0\nSECTION\n2\nHEADER\n0\nENDSEC\n0\nEOF\n", "shows no line, arc or curve"),
        (b"0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n0\n10\nabc\n0\nENDSEC\n0\nEOF\n", ""),
    ],
)
def test_what_is_no_whole_drawing_is_refused(data: bytes, told: str) -> None:
    assert told in refused(data, units="mm")


def test_an_empty_drawing_says_what_it_left_out() -> None:
    drawing = new_dxf()
    drawing.modelspace().add_text("x")
    told = refused(dxf_bytes(drawing))
    assert "shows no line, arc or curve" in told
    assert "left out: 1 TEXT" in told


def test_arcs_of_a_kilometre_that_would_fill_the_memory_are_refused() -> None:
    drawing = new_dxf()
    for k in range(40):
        drawing.modelspace().add_circle((k, 0), 9e5)
    assert "too many arcs of too large radii" in refused(dxf_bytes(drawing))


def test_entities_of_unknown_kinds_are_left_out() -> None:
    drawing = new_dxf()
    drawing.modelspace().add_line((0, 0), (10, 5))
    drawing.modelspace().add_point((0, 0))
    odd = dxf_bytes(drawing).replace(b"\nPOINT\n", b"\nACME_WIDGET\n")
    tracing = read(odd)
    assert len(tracing.chains) == 1
    assert tracing.notes == ("left out: 1 ACME_WIDGET",)


def test_a_line_without_an_end_is_told() -> None:
    drawing = new_dxf()
    drawing.modelspace().add_line((0, 0), (10.125, 5.125))
    whole = dxf_bytes(drawing)
    cut = whole.replace(b" 11\n10.125\n 21\n5.125\n 31\n0.0\n", b"")
    assert cut != whole
    assert "LINE on layer '0', handle" in refused(cut)
    assert "lacks its end" in refused(cut)
