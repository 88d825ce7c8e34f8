"""The picture of one bit: full size, every dimension said, no words over other words."""

from __future__ import annotations

import io
import math
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

from profilestack.bits import Bit, edge_path, largest_radius
from profilestack.drawing.bit_picture import EDGE_PEN, NEW_PEN, bit_picture
from profilestack.drawing.drawing import Drawing, Lines, Words
from profilestack.drawing.fonts import CAP_HEIGHT, POINT, text_width
from profilestack.drawing.pages import pages_bytes
from profilestack.drawing.picture import picture_bytes
from profilestack.files.library_file import read_library

FOLDER = Path(__file__).parents[3] / "bitlibrary"
BITS = {bit.id: bit for path in sorted(FOLDER.glob("*.toml")) for bit in read_library(path)}

SHOWN = [
    "core-box-2in",
    "straight-1-16in",
    "v90-1-2in",
    "v30-1-2in",
    "roundover-1-1-2in",
    "point-round-sharp-1-8in",
    "ogee-5-32in",
    "reverse-ogee-6mm",
    "bullnose-1-8in",
    "dovetail-1-2in-14",
    "taper-ball-1-64in",
    "slot-1-8in",
    "t-slot-3-4in",
    "multi-bead-1-8in",
    "panel-ogee-3-1-2in",
    "edge-bead-6mm",
    "thumbnail-15mm",
    "surfacing-2-1-2in",
    "ball-20mm",
]


def texts(drawing: Drawing) -> list[str]:
    return [mark.text for mark in drawing.marks if isinstance(mark, Words)]


def box_of(mark: Words) -> tuple[float, float, float, float]:
    width = text_width(mark.text, mark.size, mark.bold)
    left = mark.at[0] - {"start": 0.0, "middle": width / 2, "end": width}[mark.anchor]
    return (left, mark.at[1], left + width, mark.at[1] + CAP_HEIGHT * mark.size * POINT)


def edge_lines(drawing: Drawing) -> list[Lines]:
    return [mark for mark in drawing.marks if isinstance(mark, Lines) and mark.pen == EDGE_PEN]


@pytest.mark.parametrize("id", SHOWN)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_words_are_on_the_sheet_and_clear_of_each_other(id: str, units: str) -> None:
    drawing = bit_picture(BITS[id], units)
    boxes = [box_of(mark) for mark in drawing.marks if isinstance(mark, Words)]
    for left, bottom, right, top in boxes:
        assert left >= 5.0
        assert bottom >= 5.0
        assert right <= drawing.width - 5.0
        assert top <= drawing.height - 5.0
    for one, two in combinations(boxes, 2):
        apart = one[2] <= two[0] or two[2] <= one[0] or one[3] <= two[1] or two[3] <= one[1]
        assert apart


@pytest.mark.parametrize("id", SHOWN)
def test_dimension_words_are_crossed_by_no_upright_or_level_line(id: str) -> None:
    drawing = bit_picture(BITS[id], "in")
    words = [mark for mark in drawing.marks if isinstance(mark, Words)]
    spans = []
    for mark in drawing.marks:
        # thin lines only: the edge is heavy, the axis runs through the bit alone
        if isinstance(mark, Lines) and mark.pen.width < 0.2 and not mark.closed:
            for chain in mark.chains:
                spans += list(pairwise(chain))
    for word in words:
        left, bottom, right, top = box_of(word)
        for start, end in spans:
            low, high = np.minimum(start, end), np.maximum(start, end)
            if low[0] == high[0]:
                crossed = left < low[0] < right and low[1] < top and high[1] > bottom
            else:
                crossed = low[1] == high[1] and bottom < low[1] < top
                crossed = crossed and low[0] < right and high[0] > left
            assert not crossed, word.text


def test_the_edge_is_drawn_at_its_own_size() -> None:
    bit = BITS["core-box-2in"]
    right, left = edge_lines(bit_picture(bit, "mm"))
    (chain,) = right.chains
    assert np.ptp(chain[:, 0]) == pytest.approx(25.4)
    assert np.ptp(chain[:, 1]) == pytest.approx(31.75)
    middle = chain[0, 0]
    assert left.chains[0][:, 0].min() == pytest.approx(middle - 25.4)


def test_every_dimension_is_said() -> None:
    said = texts(bit_picture(BITS["ogee-5-32in"], "in"))
    for text in (
        "diameter 1-1/8 in",
        "tip 1/2 in",
        "edge 13/32 in",
        "overall 2-1/32 in",
        "shank 1/4 in",
        "radius 5/32 in",
        "bearing 1/2 in, does not cut",
        "Ogee 5/32 in radii, 1/2 in bearing",
    ):
        assert text in said
    assert any("qualified operator" in text for text in said)
    assert any("own bit" in text for text in said)


@pytest.mark.parametrize(
    ("id", "text"),
    [
        ("v90-1-2in", "90° included"),
        ("dovetail-1-2in-14", "14° from the axis"),
        ("chamfer-22-5", "22.5° from the axis"),
        ("bullnose-1-2in", "waist 3/8 in"),
        ("taper-ball-1-16in", "5° from the axis"),
        ("core-box-2in", "radius 1 in"),
    ],
)
def test_what_makes_the_shape_is_said(id: str, text: str) -> None:
    assert text in texts(bit_picture(BITS[id], "in"))


def test_a_worn_bit_is_drawn_as_it_is_beside_what_it_was() -> None:
    new = BITS["point-round-1-2in"]
    bit = replace(new, measured=27.5)
    drawing = bit_picture(bit, "mm")
    assert "measured diameter 27.5 mm" in texts(drawing)
    assert any(text.startswith("Dashed") for text in texts(drawing))
    (dashed,) = [m for m in drawing.marks if isinstance(m, Lines) and m.pen == NEW_PEN]
    worn = edge_lines(drawing)[0].chains[0]
    lost = new.cutting_length - edge_path(bit).end[1]
    assert worn[:, 1].min() - dashed.chains[0][:, 1].min() == pytest.approx(lost)
    assert np.ptp(worn[:, 0]) == pytest.approx(27.5 / 2)
    assert not [
        m for m in bit_picture(new, "mm").marks if isinstance(m, Lines) and m.pen == NEW_PEN
    ]


def test_pages_and_pictures_have_the_size_of_the_sheet() -> None:
    bit: Bit = BITS["panel-ogee-3-1-2in"]
    drawing = bit_picture(bit, "in")
    assert drawing.width > 2.0 * largest_radius(bit)
    page = PdfReader(io.BytesIO(pages_bytes([drawing]))).pages[0]
    assert float(page.mediabox.width) * POINT == pytest.approx(drawing.width, abs=1e-3)
    assert float(page.mediabox.height) * POINT == pytest.approx(drawing.height, abs=1e-3)
    svg = picture_bytes(drawing, "svg").decode()
    assert f'width="{drawing.width:.4f}mm"' in svg


def test_a_long_name_and_note_stay_on_the_sheet() -> None:
    bit = replace(BITS["v90-1-2in"], name="Very long name " * 12, note="much to say " * 60)
    drawing = bit_picture(bit, "mm")
    for mark in drawing.marks:
        if isinstance(mark, Words):
            assert box_of(mark)[2] <= drawing.width - 5.0
    assert math.isfinite(drawing.height)
    assert drawing.height < 150.0
