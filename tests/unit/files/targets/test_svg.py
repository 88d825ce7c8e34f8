from __future__ import annotations

import gzip
import math

import numpy as np
import pytest

from profilestack.errors import InputError
from profilestack.files.targets.svg import read_svg
from profilestack.files.targets.wishes import PictureWishes, ReadingWishes
from profilestack.geometry.path import Arc, Line
from profilestack.targets.tracing import Chain, Curve, Tracing
from tests.unit.files.targets.drawings import svg, svg_path_of
from tests.unit.targets.profiles import STEPPED, farthest


def read(data: bytes, **wishes: object) -> Tracing:
    return read_svg(data, ReadingWishes(**wishes))  # type: ignore[arg-type]


def only(data: bytes, **wishes: object) -> Chain:
    (chain,) = read(data, **wishes).chains
    return chain


def refused(data: bytes, **wishes: object) -> str:
    with pytest.raises(InputError) as caught:
        read(data, **wishes)
    return str(caught.value)


def kinds(chain: Chain) -> str:
    return "".join(type(piece).__name__[0] for piece in chain.pieces)


def test_a_path_of_lines_and_arcs_stays_exact_and_stands_upright() -> None:
    chain = only(svg(f'<path d="{svg_path_of(STEPPED)}"/>'))
    for one, two in zip(STEPPED.segments, chain.pieces, strict=True):
        assert two.end == pytest.approx(one.end, abs=1e-9)
        if isinstance(one, Arc):
            assert isinstance(two, Arc)
            assert two.turn == one.turn
            assert two.center == pytest.approx(one.center, abs=1e-9)


@pytest.mark.parametrize(
    ("size", "width"),
    [
        ('width="100mm" viewBox="0 0 200 100"', 5.0),
        ('width="10cm" height="5cm" viewBox="0 0 100 50"', 10.0),
        ('width="2in" height="1in" viewBox="0 0 50.8 25.4"', 10.0),
        ('width="72pt" height="72pt" viewBox="0 0 25.4 25.4"', 10.0),
        ('width="100mm" height="100mm" viewBox="0 0 200 100"', 5.0),
        ('width="100mm" height="100mm" viewBox="0 0 200 100" preserveAspectRatio="none"', 5.0),
        ('width="50mm" height="50mm"', 10.0 * 25.4 / 96.0),
    ],
)
def test_the_physical_size_counts(size: str, width: float) -> None:
    chain = only(svg('<line x1="0" y1="0" x2="10" y2="0"/>', size))
    assert chain.length == pytest.approx(width)


def test_unlike_scales_stretch_the_drawing() -> None:
    size = 'width="100mm" height="100mm" viewBox="0 0 200 100" preserveAspectRatio="none"'
    chain = only(svg('<line x1="0" y1="0" x2="0" y2="10"/>', size))
    assert chain.length == pytest.approx(10.0)


def test_the_units_of_the_size_are_the_drawing_s() -> None:
    assert read(svg('<circle r="1"/>', 'width="2in" viewBox="0 0 2 1"')).units == "in"
    assert read(svg('<circle r="1"/>')).units == "mm"


@pytest.mark.parametrize(
    "size", ["", 'width="100" height="50"', 'width="100%"', 'viewBox="0 0 10 10"', 'width="0mm"']
)
def test_a_drawing_without_a_physical_size_is_asked_about(size: str) -> None:
    told = refused(svg('<circle r="1"/>', size))
    assert "has no physical size" in told
    assert "--units-of-file" in told


def test_what_the_numbers_are_can_be_said() -> None:
    drawing = svg('<line x2="10"/>', 'width="100" height="50"')
    assert only(drawing, units="in").length == pytest.approx(254.0)
    dots = PictureWishes(dpi=96.0)
    assert only(drawing, picture=dots).length == pytest.approx(10.0 * 25.4 / 96.0)


@pytest.mark.parametrize(
    ("transform", "start", "end"),
    [
        ("translate(3,4)", (3.0, -4.0), (13.0, -4.0)),
        ("translate(3)", (3.0, 0.0), (13.0, 0.0)),
        ("scale(2)", (0.0, 0.0), (20.0, 0.0)),
        ("rotate(90)", (0.0, 0.0), (0.0, -10.0)),
        ("rotate(90, 10, 0)", (10.0, 10.0), (10.0, 0.0)),
        ("matrix(0 1 -1 0 5 6)", (5.0, -6.0), (5.0, -16.0)),
        ("skewY(45)", (0.0, 0.0), (10.0, -10.0)),
        ("translate(1,0) scale(2) translate(1,0)", (3.0, 0.0), (23.0, 0.0)),
        ("", (0.0, 0.0), (10.0, 0.0)),
    ],
)
def test_transforms(transform: str, start: tuple[float, float], end: tuple[float, float]) -> None:
    chain = only(svg(f'<g transform="{transform}"><line x2="10"/></g>'))
    assert chain.start == pytest.approx(start, abs=1e-9)
    assert chain.end == pytest.approx(end, abs=1e-9)


def test_circles_stay_arcs_where_they_stay_round() -> None:
    turned = only(svg('<circle cx="3" r="5" transform="rotate(20) scale(-2,2)"/>'))
    (arc,) = turned.pieces
    assert isinstance(arc, Arc)
    assert arc.radius == pytest.approx(10.0)
    oval = only(svg('<circle r="5" transform="scale(2,1)"/>'))
    (curve,) = oval.pieces
    assert isinstance(curve, Curve)
    x, z = curve.points.T
    assert (x / 10.0) ** 2 + (z / 5.0) ** 2 == pytest.approx(1.0)


def test_arcs_by_their_four_kinds() -> None:
    """Both circles of radius 5 through (0, 0) and (6, 0) have their centres at (3, 4) and (3, -4);
    upright, z = -y."""
    middles = set()
    for large in (0, 1):
        for sweep in (0, 1):
            chain = only(svg(f'<path d="M0 0A5 5 0 {large} {sweep} 6 0"/>'))
            (arc,) = chain.pieces
            assert isinstance(arc, Arc)
            assert arc.radius == pytest.approx(5.0)
            half = math.asin(3.0 / 5.0)
            turned = 2.0 * math.pi - 2.0 * half if large else 2.0 * half
            assert abs(arc.sweep) == pytest.approx(turned)
            # sweep 1 turns clockwise as seen on the screen, and so it does upright
            assert arc.turn == ("cw" if sweep else "ccw")
            middles.add((large, sweep, round(arc.center[1], 6)))
    assert middles == {(0, 0, 4.0), (0, 1, -4.0), (1, 0, -4.0), (1, 1, 4.0)}


def test_an_arc_that_is_too_small_grows_until_it_reaches() -> None:
    (arc,) = only(svg('<path d="M0 0A1 1 0 0 1 6 0"/>')).pieces
    assert isinstance(arc, Arc)
    assert arc.radius == pytest.approx(3.0)


def test_a_tilted_oval_passes_its_ends_and_keeps_its_axes() -> None:
    (piece,) = only(svg('<path d="M0 0A10 5 30 0 1 8 2"/>')).pieces
    assert isinstance(piece, Curve)
    assert piece.start == pytest.approx((0.0, 0.0))
    assert piece.end == pytest.approx((8.0, -2.0))
    # turned back by the tilt and squeezed, all points lie on one circle: five of them tell
    angle = math.radians(30.0)
    x, y = piece.points[:, 0], -piece.points[:, 1]
    u, v = (
        math.cos(angle) * x + math.sin(angle) * y,
        2.0 * (-math.sin(angle) * x + math.cos(angle) * y),
    )
    table = np.column_stack((u, v, np.ones(len(u))))
    solved, *_ = np.linalg.lstsq(table, -(u**2 + v**2), rcond=None)
    radius = math.sqrt(solved[0] ** 2 / 4.0 + solved[1] ** 2 / 4.0 - solved[2])
    assert radius == pytest.approx(10.0, rel=1e-6)
    off = np.hypot(u + solved[0] / 2.0, v + solved[1] / 2.0) - radius
    assert np.abs(off).max() < 1e-6


def test_curves_lie_on_their_formula() -> None:
    (cubic,) = only(svg('<path d="M0 0C10 -20 20 20 30 0"/>')).pieces
    assert isinstance(cubic, Curve)
    t = np.linspace(0.0, 1.0, len(cubic.points))
    x = 30.0 * t
    z = 3 * t * (1 - t) ** 2 * 20.0 - 3 * t**2 * (1 - t) * 20.0
    np.testing.assert_allclose(cubic.points, np.column_stack((x, z)), atol=1e-9)
    (square,) = only(svg('<path d="M0 0Q10 -20 20 0"/>')).pieces
    assert isinstance(square, Curve)
    t = np.linspace(0.0, 1.0, len(square.points))
    np.testing.assert_allclose(square.points[:, 1], 2 * t * (1 - t) * 20.0, atol=1e-9)


def test_curves_are_true_to_a_micrometre() -> None:
    (cubic,) = only(svg('<path d="M0 0C10 -20 20 20 30 0"/>')).pieces
    assert isinstance(cubic, Curve)
    t = (np.arange(len(cubic.points) - 1) + 0.5) / (len(cubic.points) - 1)
    middle = np.column_stack((30.0 * t, 3 * t * (1 - t) ** 2 * 20.0 - 3 * t**2 * (1 - t) * 20.0))
    chord = (cubic.points[1:] + cubic.points[:-1]) / 2.0
    assert np.hypot(*(middle - chord).T).max() <= 0.001


def test_smooth_curves_take_their_handle_from_the_one_before() -> None:
    said = only(svg('<path d="M0 0C0 5 5 5 5 0C5 -5 10 -5 10 0"/>'))
    short = only(svg('<path d="M0 0C0 5 5 5 5 0S10 -5 10 0"/>'))
    np.testing.assert_allclose(said.flatten(), short.flatten(), atol=1e-12)
    said = only(svg('<path d="M0 0Q5 5 10 0Q15 -5 20 0"/>'))
    short = only(svg('<path d="M0 0Q5 5 10 0T20 0"/>'))
    np.testing.assert_allclose(said.flatten(), short.flatten(), atol=1e-12)
    alone = only(svg('<path d="M0 0L1 0S5 5 10 0"/>'))
    handle = only(svg('<path d="M0 0L1 0C1 0 5 5 10 0"/>'))
    np.testing.assert_allclose(alone.flatten(), handle.flatten(), atol=1e-12)


@pytest.mark.parametrize(
    ("short", "long"),
    [
        ("m1 2l3 4h5v6z", "M1,2 L4,6 L9,6 L9,12 L1,2"),
        ("M1 2 3 4 5 6", "M1 2L3 4L5 6"),
        ("m1 2 3 4-5-6", "M1 2L4 6L-1 0"),
        ("M.5.5.5-1e0", "M0.5 0.5L0.5 -1"),
        ("M0 0a5,5 0 016 0", "M0 0A5 5 0 0 1 6 0"),
        ("M0 0A5 0 0 0 1 6 0", "M0 0L6 0"),
    ],
)
def test_paths_are_written_in_many_ways(short: str, long: str) -> None:
    one, two = only(svg(f'<path d="{short}"/>')), only(svg(f'<path d="{long}"/>'))
    np.testing.assert_allclose(one.flatten(), two.flatten(), atol=1e-9)


def test_subpaths_are_chains_of_their_own() -> None:
    chains = read(svg('<path d="M0 0H5V5Z m10 10 h3 M0 20h7"/>')).chains
    assert [chain.is_closed for chain in chains] == [True, False, False]
    assert chains[1].start == (10.0, -10.0)


@pytest.mark.parametrize(
    ("d", "told"),
    [
        ("M0 0 X5 5", "character 7: 'X' is no path command"),
        ("0 0 L5 5", "character 1: '0 0 L5 5' stands where a command must"),
        ("M0 0 L5", "'the end' stands where a number of L must"),
        ("M0 0 L nan 5", "' nan 5' stands where a number of L must"),
        ("M0 0 A5 5 0 2 1 6 0", "where a number of A must"),
        ("M0 0 L 1e999 5", "stands where a number of L must"),
    ],
)
def test_wrong_paths_are_told_with_the_position(d: str, told: str) -> None:
    assert told in refused(svg(f'<path id="crown" d="{d}"/>'))
    assert "crown: its path is not understood" in refused(svg(f'<path id="crown" d="{d}"/>'))


@pytest.mark.parametrize(
    ("body", "pieces", "length"),
    [
        ('<line x1="1" y1="2" x2="4" y2="6"/>', "L", 5.0),
        ('<polyline points="0,0 3,4 3,10"/>', "LL", 11.0),
        ('<polygon points="0 0 3 0 3 4"/>', "LLL", 12.0),
        ('<rect x="1" y="1" width="5" height="3"/>', "LLLL", 16.0),
        ('<rect width="5" height="3" rx="1"/>', "LALALALA", 8.0 + 2.0 * math.pi),
        ('<circle r="2"/>', "A", 4.0 * math.pi),
        ('<ellipse rx="2" ry="2"/>', "A", 4.0 * math.pi),
        ('<rect width="4" height="4" ry="2"/>', "AAAA", 4.0 * math.pi),
    ],
)
def test_plain_shapes(body: str, pieces: str, length: float) -> None:
    chain = only(svg(body))
    assert kinds(chain) == pieces
    assert chain.length == pytest.approx(length)


def test_a_straight_curve_is_a_line() -> None:
    (piece,) = only(svg('<path d="M0 0C1 1 2 2 3 3"/>')).pieces
    assert isinstance(piece, Line)
    hooked = only(svg('<path d="M0 0C6 0 -3 0 3 0"/>')).pieces
    assert isinstance(hooked[0], Curve)  # it goes back over itself


def test_copies_are_placed_and_symbols_opened() -> None:
    body = (
        '<defs><g id="round"><path d="M0 0A5 5 0 0 1 5 5"/></g>'
        '<symbol id="mark"><line x2="2"/><line y2="3"/></symbol></defs>'
        '<use href="#round" x="10" y="20" transform="scale(2)"/>'
        '<use xlink:href="#mark" x="1"/><use href="#nowhere"/>'
    )
    tracing = read(svg(body))
    assert len(tracing.chains) == 3
    assert tracing.chains[0].start == pytest.approx((20.0, -40.0))
    assert tracing.chains[0].end == pytest.approx((30.0, -50.0))
    assert tracing.notes == ("left out: 1 use of what is not there",)


def test_an_inner_svg_has_its_own_scale() -> None:
    body = '<svg x="10" y="5" width="20" height="20" viewBox="0 0 10 10"><line x2="10"/></svg>'
    chain = only(svg(body))
    assert chain.start == pytest.approx((10.0, -5.0))
    assert chain.length == pytest.approx(20.0)


def test_what_is_not_drawn_is_left_out_and_told() -> None:
    body = (
        '<line x2="1"/><text>x</text><image href="a.png"/><line x2="2" display="none"/>'
        '<g style="fill:none; display: none"><line x2="3"/></g><clipPath><rect width="9" '
        'height="9"/></clipPath><pattern><circle r="1"/></pattern>'
    )
    tracing = read(svg(body))
    assert [chain.length for chain in tracing.chains] == [1.0]
    assert tracing.notes == ("left out: 1 image, 1 text", "left out: 2 hidden")


def test_groups_are_chosen_by_name_or_id() -> None:
    label = 'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" inkscape:label="Profile"'
    body = f'<g {label}><g><line x2="3"/></g></g><g id="frame"><line x2="90"/></g>'
    assert only(svg(body), layers=("profile",)).length == 3.0
    assert only(svg(body), layers=("frame",)).length == 90.0
    told = refused(svg(body), layers=("Profil",))
    assert "no group or shape is called 'Profil'" in told
    assert "did you mean 'Profile'?" in told


def test_a_doctype_is_no_harm() -> None:
    head = b'<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x.dtd">'
    assert only(head + svg('<circle r="2"/>')).is_closed


def copies(depth: int) -> bytes:
    groups = "".join(
        f'<g id="x{k}">' + f'<use href="#x{k - 1}"/>' * 10 + "</g>" for k in range(1, depth)
    )
    body = f'<defs><circle id="x0" r="1"/>{groups}</defs><use href="#x{depth - 1}"/>'
    return svg(body)


def test_a_few_copies_are_made_ten_million_are_refused() -> None:
    assert len(read(copies(3)).chains) == 100
    assert "shows more than 20000 elements once all uses are counted" in refused(copies(8))


def test_a_path_that_draws_nothing_is_read_once_however_often_it_is_used() -> None:
    body = f'<defs><path id="p" d="{"M0 0" * 20_000}"/></defs>' + '<use href="#p"/>' * 5000
    assert len(read(svg(body + '<line x2="1"/>')).chains) == 1


def test_too_much_text_of_paths_is_refused() -> None:
    assert "1 MiB of paths" in refused(svg(f'<path d="{"M0 0" * 10_000}"/>' * 27))


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ('<g id="a"><use href="#a"/></g>', "element 'a' uses itself"),
        ('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>', "uses itself"),
        ("<g>" * 100 + "</g>" * 100, "nested deeper than 64"),
        ("<g/>" * 20_001, "has more than 20000 elements"),
        ('<path d="M0 0 L 1e308 5"/>', "reaches beyond"),
        ('<circle r="1" transform="scale(1e300)"/>', "reaches beyond"),
        ('<circle r="nan"/>', "r = 'nan' is not understood"),
        ('<path d="M0 0C1e300 0 1 1 2 2"/>', "has numbers too large to draw"),
        ('<path d="M0 0A1e200 1e200 0 0 1 6 0"/>', "has numbers too large to draw"),
        ('<line x2="5" transform="spin(3)"/>', "transform spin(3) is not understood"),
        ('<line x2="5" transform="scale(nan)"/>', "is not understood"),
        ('<line x2="5" transform="rotate(1,2)"/>', "is not understood"),
        ('<line x2="5" transform="scale(2"/>', "is not understood"),
        ('<line x2="50%"/>', "x2 = '50%' is not understood"),
        ('<polyline points="0 0 1"/>', "its points are not understood"),
        ('<path d="' + "M0 0" + "L1 1" * 110_000 + '"/>', "more than 200000 numbers"),
        ("", "shows no path and no shape"),
    ],
)
def test_hostile_and_useless_drawings_are_refused(body: str, told: str) -> None:
    assert told in refused(svg(body))


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b'<!DOCTYPE svg [<!ENTITY a "b"><!ENTITY c "&a;&a;">]>' + svg("<text>&c;</text>"),
         "uses entities or outside files (EntitiesForbidden)"),
        (b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>' + svg("<text>&x;</text>"),
         "uses entities or outside files (EntitiesForbidden)"),
        (svg('<line x2="5"/>')[:-6], "is no whole XML"),
        (b"\x89PNG", "is no whole XML"),
        (b"<html/>", "is no SVG: its root is html"),
        (gzip.compress(svg("")), "is a packed SVG"),
        (svg("<g/>", 'width="9mm" viewBox="0 0 nan 1"'), "viewBox"),
        (svg("<g/>", 'width="9mm" viewBox="0 0 0 1"'), "viewBox"),
        (svg("<g/>", 'width="9mm" viewBox="0 0 1"'), "viewBox"),
    ],
)  # fmt: skip
def test_what_is_no_safe_svg_is_refused(data: bytes, told: str) -> None:
    assert told in refused(data)


def test_the_curves_of_a_drawing_are_near_their_profile() -> None:
    chain = only(svg(f'<path d="{svg_path_of(STEPPED)}" transform="rotate(0)"/>'))
    assert farthest(chain.flatten(), STEPPED) < 1e-6
