"""Outlines of bits from drawings: whichever way they are drawn, the same right half comes out."""

from __future__ import annotations

from pathlib import Path as FilePath

import pytest

from profilestack.bits.shapes import CoreBox, Roundover
from profilestack.bits.shapes.outline import Outline
from profilestack.errors import FileError, InputError
from profilestack.geometry.path import Path
from profilestack.jobs.bit_outline import read_outline, right_half

RADIUS = 6.0
HALF = Path((0, 0)).arc((6, 6), center=(0, 6), turn="ccw").line((6, 15))
"""The right half of a core box, as it should come out."""


def moved(path: Path, across: float, up: float) -> Path:
    return path.moved(lambda point: (point[0] + across, point[1] + up))


def mirrored(path: Path) -> Path:
    return path.moved(lambda point: (-point[0], point[1]), mirrors=True)


WHOLE = mirrored(HALF).reversed().joined(HALF)
RING = WHOLE.line((-6, 15))
HALF_RING = HALF.line((0, 15)).line((0, 0))


def same(found: Path, wanted: Path) -> bool:
    pairs = zip(found.flatten(0.001), wanted.flatten(0.001), strict=True)
    return all(abs(a - b).max() < 1e-6 for a, b in pairs)


@pytest.mark.parametrize("drawn", [HALF, WHOLE, RING, HALF_RING], ids=["half", "whole", "ring",
                                                                     "half ring"])  # fmt: skip
@pytest.mark.parametrize("backward", [False, True])
def test_the_right_half_comes_out_of_every_way_to_draw_a_bit(drawn: Path, backward: bool) -> None:
    path = drawn.reversed() if backward else drawn
    assert same(right_half(path), HALF)
    # both sides lie anywhere; a half keeps its axis at x = 0
    across = 40.0 if drawn in (WHOLE, RING) else 0.0
    assert same(right_half(moved(path, across, -70.0)), HALF)


def test_a_half_left_of_the_axis_is_moved_to_it() -> None:
    assert same(right_half(moved(HALF, -20.0, 3.0)), HALF)


def test_a_half_that_starts_beside_the_axis_keeps_its_flat_tip() -> None:
    beside = Path((2, 0)).arc((8, 6), center=(8, 0), turn="cw").line((8, 9))
    assert same(right_half(beside), beside)
    assert Outline(right_half(beside)).size == 16.0


def test_it_cuts_what_the_shape_of_that_name_cuts() -> None:
    assert same(right_half(WHOLE), CoreBox(2.0 * RADIUS).edge().line((6, 15)))
    edge = Roundover(5.0, 3.0).edge()
    both = mirrored(edge).reversed().joined(edge)
    assert Outline(right_half(both)).size == pytest.approx(2.0 * (1.5 + 5.0))


SVG = """<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">
<path fill="none" stroke="black" d="{d}"/></svg>"""


def test_from_a_drawing(tmp_path: FilePath) -> None:
    file = tmp_path / "nose.svg"
    # y runs down in the file: the tip is at y = 30
    file.write_text(SVG.format(d="M 14 15 L 14 24 A 6 6 0 0 0 26 24 L 26 15"))
    drawn = read_outline(file)
    assert drawn.notes == ()
    found = Outline(drawn.outline)
    assert found.size == pytest.approx(12.0, abs=0.01)
    assert drawn.outline.end == pytest.approx((6.0, 15.0), abs=0.01)
    assert drawn.outline.start == pytest.approx((0.0, 0.0), abs=0.01)


def test_the_longest_line_is_the_edge(tmp_path: FilePath) -> None:
    file = tmp_path / "nose.svg"
    file.write_text(SVG.format(d="M 14 15 L 14 24 A 6 6 0 0 0 26 24 L 26 15 M 30 5 L 36 5"))
    assert read_outline(file).notes == ("1 other chain is left out",)


def test_what_is_no_edge_is_refused_with_its_file(tmp_path: FilePath) -> None:
    file = tmp_path / "line.svg"
    file.write_text(SVG.format(d="M 4 5 L 24 5"))
    with pytest.raises(InputError, match=r"line\.svg"):
        read_outline(file)
    with pytest.raises(FileError):
        read_outline(tmp_path / "none.svg")
