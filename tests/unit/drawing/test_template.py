import dataclasses
import io

import numpy as np
import pytest
import shapely
from pypdf import PdfReader

from profilestack.cutting.caution import Caution
from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.drawing.fonts import POINT
from profilestack.drawing.safety import USUAL_CAUTIONS
from profilestack.drawing.template.layout import OVERLAP
from profilestack.drawing.template.options import PAPERS, TemplateOptions
from profilestack.drawing.template.template import template_bytes, template_sheets
from profilestack.errors import InputError
from profilestack.geometry.region import rings_of
from profilestack.stack import Blank, Rectangle, Stack, StraightRun
from tests.unit.drawing.examples import BITS, CAUTIONS, EXAMPLES, base, crown, example
from tests.unit.drawing.pdf_reading import Drawn, drawn_on, pages_of
from tests.unit.drawing.sheets import (
    assert_all_on_paper,
    overlapping_words,
    room_of,
    texts_of,
    words_of,
)

INK = (0x1E / 255, 0x23 / 255, 0x26 / 255)
TARGET = (0x00 / 255, 0x60 / 255, 0xA8 / 255)
EVERY = TemplateOptions(reverse=True)


def sheet_text(data: bytes, page: int) -> str:
    return " ".join(pages_of(data)[page].extract_text().split())


def drawn_like(drawn: Drawn, ring: np.ndarray, color: tuple[float, ...]) -> list[np.ndarray]:
    """Stroked chains of that colour that have the ring's points, in mm."""
    return [
        chain.points * POINT
        for chain in drawn.strokes
        if len(chain.points) in (len(ring), len(ring) + 1)
        and chain.color == pytest.approx(color, abs=1e-3)
    ]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("orientation", ["portrait", "landscape"])
def test_sheets_have_the_papers_size(paper: str, orientation: str) -> None:
    data = template_bytes(*example("crown"), CAUTIONS, TemplateOptions(paper, orientation))
    width, height = PAPERS[paper]
    if orientation == "landscape":
        width, height = height, width
    for page in pages_of(data):
        size = [float(x) for x in page.mediabox[2:]]
        assert size == pytest.approx([width / 25.4 * 72.0, height / 25.4 * 72.0], abs=1e-3)


def test_letter_is_612_by_792_points() -> None:
    data = template_bytes(*example("crown"), (), TemplateOptions("Letter", "portrait"))
    assert [float(x) for x in pages_of(data)[0].mediabox[2:]] == pytest.approx([612.0, 792.0])


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_sheet_has_its_check_bars_both_ways(name: str) -> None:
    data = template_bytes(*example(name), CAUTIONS, EVERY)
    for page in pages_of(data):
        drawn = drawn_on(page)
        for axis in (0, 1):
            assert len(drawn.bars(axis, 283.464567, 0.001)) == 1
            assert len(drawn.bars(axis, 288.0, 0.001)) == 1


def test_bars_and_section_are_corrected_for_the_printer() -> None:
    cut, comparison = example("crown")
    options = TemplateOptions(printed_x=99.0, printed_z=101.0)
    drawn = drawn_on(pages_of(template_bytes(cut, comparison, (), options))[0])
    assert len(drawn.bars(0, 283.464567 / 0.99, 0.001)) == 1
    assert len(drawn.bars(1, 283.464567 / 1.01, 0.001)) == 1
    ring = rings_of(cut.section)[0]
    for points in drawn_like(drawn, ring, INK):
        assert np.ptp(points[:, 0]) == pytest.approx(62.0 / 0.99, abs=0.001)
        assert np.ptp(points[:, 1]) == pytest.approx(45.0 / 1.01, abs=0.001)


@pytest.mark.parametrize("name", ["crown", "column", "tipped", "stairs", "turned"])
def test_the_outlines_are_the_cut_ones_from_both_ends(name: str) -> None:
    cut, comparison = example(name)
    data = template_bytes(cut, comparison, CAUTIONS, TemplateOptions("A3"))
    drawn = drawn_on(pages_of(data)[0])
    wanted = [(ring, INK) for ring in rings_of(cut.section)]
    if comparison is not None:
        wanted.append((comparison.target, TARGET))
    for ring, color in wanted:
        left, right = drawn_like(drawn, ring, color)
        for points, hand in ((left, 1.0), (right, -1.0)):
            flat = ring * np.array((hand, 1.0))
            shift = points[0] - flat[0]
            off = np.abs(points[: len(ring)] - flat - shift).max()
            assert off < 0.001


@pytest.mark.parametrize(
    ("name", "options"),
    [
        ("base", TemplateOptions("A4", "portrait")),
        ("base", TemplateOptions("Letter", "landscape")),
        ("tall", TemplateOptions("A4", "landscape")),
    ],
)
def test_tiles_cover_the_section_and_overlap(name: str, options: TemplateOptions) -> None:
    cut, comparison = example(name)
    ring = rings_of(cut.section)[0]
    windows = []
    for page in pages_of(template_bytes(cut, comparison, (), options)):
        if "left end: part" not in page.extract_text():
            continue
        for chain in drawn_on(page).strokes:
            same = len(chain.points) == len(ring) + 1
            if same and chain.color == pytest.approx(INK, abs=1e-3):
                assert chain.clip is not None
                shift = chain.points[0] * POINT - ring[0]
                low, high = chain.clip.min(axis=0) * POINT, chain.clip.max(axis=0) * POINT
                windows.append(shapely.box(*(low - shift), *(high - shift)))
    assert len(windows) >= 2
    assert shapely.union_all(windows).buffer(1e-4).covers(shapely.polygons(ring))
    first, second = windows[:2]
    shared = first.intersection(second).bounds
    sides = (shared[2] - shared[0], shared[3] - shared[1])
    assert min(sides) == pytest.approx(OVERLAP, abs=1e-3)


def test_neighbouring_tiles_show_the_same_join_marks() -> None:
    cut, comparison = example("base")
    data = template_bytes(cut, comparison, (), TemplateOptions("A4", "portrait"))
    ring = rings_of(cut.section)[0]
    joins = []
    for page in pages_of(data)[:2]:
        drawn = drawn_on(page)
        shift = drawn_like(drawn, ring, INK)[0][0] - ring[0]
        crosses = [
            tuple(np.round(chain.points.mean(axis=0) * POINT - shift, 3))
            for chain in drawn.strokes
            if len(chain.points) == 2
            and chain.clip is not None
            and np.ptp(chain.points, axis=0) * POINT == pytest.approx((5.0, 0.0), abs=1e-3)
        ]
        joins.append(crosses)
    assert len(joins[0]) == 2
    assert joins[0] == joins[1]
    assert all(text in sheet_text(data, 0) for text in ("sheet 1 of", "part 1 of 2"))


def test_viewers_are_asked_not_to_scale_and_bytes_stay_the_same() -> None:
    cut, comparison = example("tipped")
    data = template_bytes(cut, comparison, CAUTIONS, EVERY)
    assert data == template_bytes(cut, comparison, CAUTIONS, EVERY)
    root = PdfReader(io.BytesIO(data)).trailer["/Root"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"


@pytest.mark.parametrize("name", ["crown", "base"])
def test_the_cautions_stand_on_every_sheet(name: str) -> None:
    data = template_bytes(*example(name), CAUTIONS, EVERY)
    for page in range(len(pages_of(data))):
        text = sheet_text(data, page)
        assert " ".join(USUAL_CAUTIONS) in text
        assert "STOP" in text
        assert CAUTIONS[0].text in text
        assert "Print at 100 %, measure the bars" in text
        assert f"sheet {page + 1} of {len(pages_of(data))}" in text


def test_all_cautions_stand_on_the_sheets_however_many() -> None:
    many = tuple(Caution("too-deep", "stop", 1, f"matter number {k};") for k in range(30))
    data = template_bytes(*example("crown"), many, TemplateOptions())
    text = " ".join(sheet_text(data, page) for page in range(len(pages_of(data))))
    assert all(f"matter number {k};" in text for k in range(30))
    assert "and 28 more that say STOP" in text


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
@pytest.mark.parametrize("name", EXAMPLES)
def test_all_is_on_the_paper_and_no_words_meet(name: str, paper: str, units: str) -> None:
    options = TemplateOptions(paper, reverse=True, units=units)
    for sheet in template_sheets(*example(name), CAUTIONS, options):
        assert_all_on_paper(sheet)
        assert overlapping_words(sheet) == []


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_words_stand_upon_the_wood(name: str) -> None:
    cut, comparison = example(name)
    sheets = template_sheets(cut, comparison, (), TemplateOptions("A3"))
    ring = rings_of(cut.section)[0]
    data = template_bytes(cut, comparison, (), TemplateOptions("A3"))
    for sheet, page in zip(sheets, pages_of(data), strict=True):
        for points in drawn_like(drawn_on(page), ring, INK):
            wood = shapely.polygons(points)
            assert [
                mark.text for mark in words_of(sheet.marks) if room_of(mark).intersects(wood)
            ] == []


def test_offsets_and_depths_stand_over_the_axes_and_heights_at_the_sides() -> None:
    cut, comparison = example("crown")
    (sheet,) = template_sheets(cut, comparison, (), TemplateOptions("A3"))
    texts = texts_of(sheet)
    for text in ("41.2 | 20", "55 | 20", "31.5 | 20.05"):
        assert texts.count(text) == 2  # both hands
    # heights of the fillet and the flat, projections of the fillet's and the round's ends
    for text in ("25", "45", "10", "30", "62"):
        assert texts.count(text) >= 2
    assert {"Seen from the left end, 1 : 1", "Seen from the right end, 1 : 1"} <= set(texts)


@pytest.mark.parametrize("title", ["W" * 300, "a\nb\tc", "<b>&amp; $x$ %s", "刨花 Größe Ω", ""])
def test_hostile_titles_do_no_harm(title: str) -> None:
    cut = cut_stack(crown(title), BITS)
    sheets = template_sheets(cut, compare(cut), CAUTIONS, EVERY)
    for sheet in sheets:
        assert_all_on_paper(sheet)
        assert overlapping_words(sheet) == []
    assert template_bytes(cut, compare(cut), CAUTIONS, EVERY).startswith(b"%PDF")


def test_titles_in_other_alphabets_can_be_read() -> None:
    cut = cut_stack(crown("Größe Ω кириллица"), BITS)
    assert "Größe Ω кириллица" in sheet_text(template_bytes(cut, compare(cut), ()), 0)


def board(width: float) -> Stack:
    return Stack(Blank(Rectangle(width, 20.0)), StraightRun(1000.0))


def test_a_board_of_three_metres_is_tiled() -> None:
    cut = cut_stack(board(3000.0), {})
    sheets = template_sheets(cut, None, (), TemplateOptions("A4"))
    assert 24 <= len(sheets) <= 60


def test_too_many_sheets_are_refused_with_the_paper_that_would_do() -> None:
    cut = cut_stack(board(9000.0), {})
    with pytest.raises(InputError, match=r"sheets of A4.*at most 60 sheets.*A3 takes \d+"):
        template_bytes(cut, None, (), TemplateOptions("A4"))
    cut = cut_stack(board(90000.0), {})
    with pytest.raises(InputError, match="even A3 takes more"):
        template_bytes(cut, None, (), TemplateOptions("A4"))


def test_auto_takes_the_fewer_sheets() -> None:
    cut, comparison = example("stairs")
    counts = {
        orientation: len(template_sheets(cut, comparison, (), TemplateOptions("A4", orientation)))
        for orientation in ("auto", "portrait", "landscape")
    }
    assert counts["auto"] == min(counts.values())


@pytest.mark.parametrize(
    ("key", "value", "hint"),
    [
        ("paper", "A5", "A4, Letter, A3, Tabloid"),
        ("paper", "Leter", "did you mean 'Letter'"),
        ("orientation", "upright", "portrait"),
        ("margin", -1.0, "0 to 30 mm"),
        ("printed_x", 50.0, "90 to 110 mm"),
        ("printed_z", float("nan"), "90 to 110 mm"),
        ("clearance", 9.0, "0 to 5 mm"),
        ("units", "cm", "mm, in"),
    ],
)
def test_impossible_options_are_refused_by_key(key: str, value: object, hint: str) -> None:
    with pytest.raises(InputError, match=f"{key}: .*{hint}"):
        TemplateOptions(**{key: value})  # type: ignore[arg-type]


def test_papers_may_be_typed_in_small_letters() -> None:
    assert TemplateOptions("letter", "Portrait") == TemplateOptions("Letter", "portrait")


def test_leftover_in_the_blank_is_no_reason_for_more_sheets() -> None:
    nothing = dataclasses.replace(base(), passes=())
    cut = cut_stack(nothing, BITS)
    assert len(template_sheets(cut, compare(cut), (), TemplateOptions("A3"))) <= 3


def test_a_bit_far_outside_takes_no_sheets() -> None:
    stack = crown()
    far = dataclasses.replace(stack.passes[0], offset=5000.0)
    cut = cut_stack(dataclasses.replace(stack, passes=(*stack.passes, far)), BITS)
    assert len(template_sheets(cut, compare(cut), (), TemplateOptions("A3"))) == 1


def test_the_feed_pushes_a_groove_to_the_edge() -> None:
    """Seen from the left end the wood goes away over a table's bit: the right end comes first."""
    cut, comparison = example("crown")
    (sheet,) = template_sheets(cut, comparison, (), TemplateOptions("A3"))
    told = [text for text in texts_of(sheet) if text.startswith(("Seen from", "feed:"))]
    assert told == [
        "Seen from the left end, 1 : 1",
        "feed: the bit comes toward you; on a table the wood goes away from you",
        "Seen from the right end, 1 : 1",
        "feed: the bit goes away from you; on a table the wood comes toward you",
    ]
