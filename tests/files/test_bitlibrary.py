"""The shipped bit library: every file reads, every bit can be, sizes are as the trade has them."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from profilestack.bits import Bit, edge_path, largest_radius, silhouette_path
from profilestack.bits.library import Library
from profilestack.files.library_file import read_library

FOLDER = Path(__file__).parents[2] / "bitlibrary"
SMALL_SHOP = FOLDER / "small-shop.bits.toml"
FAMILIES = sorted(set(FOLDER.glob("*.bits.toml")) - {SMALL_SHOP})
INCH = 25.4
GRIP = {6.0: 19.0, 6.35: 19.0, 8.0: 20.0, 12.0: 25.0, 12.7: 25.0}


def family_bits() -> list[Bit]:
    return [bit for path in FAMILIES for bit in read_library(path)]


BITS = family_bits()
EACH_FAMILY = pytest.mark.parametrize("path", FAMILIES, ids=lambda path: path.stem)


def test_ids_are_there_once_over_all_families() -> None:
    assert len(Library(tuple(BITS))) == len(BITS)
    assert 330 <= len(BITS) <= 350


def test_a_family_keeps_to_one_unit_and_says_what_its_values_are() -> None:
    for path in [*FAMILIES, SMALL_SHOP]:
        text = path.read_text(encoding="utf-8")
        units = "mm" if path.name.endswith("metric.bits.toml") else "in"
        assert f'units = "{units}"' in text
        assert "from memory" in text
        assert "caliper" in text
        assert all(len(line) <= 130 for line in text.splitlines())


def test_the_small_shop_has_forty_of_the_same_bits() -> None:
    small = read_library(SMALL_SHOP)
    assert len(small) == 40
    families = Library(tuple(BITS))
    for bit in small:
        assert bit == families.bit(bit.id)
    assert largest_radius(small.bit("core-box-2in")) == pytest.approx(INCH)


def test_every_family_has_as_many_sizes_as_the_trade() -> None:
    counts = Counter(bit.shape.word for bit in BITS)
    assert counts == {
        "straight": 48 + 6 + 26 + 6,  # straights and spirals; rabbet and slot discs
        "core-box": 15 + 8 + 13 + 9,
        "taper-ball": 4 + 4,
        "v-groove": 17 + 7 + 9 + 4,
        "roundover": 14 + 7 + 14 + 13 + 8,
        "cove": 12 + 6 + 9 + 4,
        "ogee": 6 + 5 + 3 + 2,
        "reverse-ogee": 3 + 1,
        "bullnose": 10 + 7,
        "dovetail": 9 + 5,
        "outline": 14 + 4 + 6,
    }


@EACH_FAMILY
def test_a_bit_is_as_the_trade_has_it(path: Path) -> None:
    for bit in read_library(path):
        diameter = 2.0 * largest_radius(bit)
        assert diameter == pytest.approx(bit.shape.size), bit.id
        assert bit.grip == GRIP[round(bit.shank, 3)], bit.id
        assert bit.measured is None, bit.id
        if bit.shank < 7.0:
            assert diameter <= 1.25 * INCH + 1e-6, bit.id
        if diameter > 1.26 * INCH or bit.pilot_diameter is not None:
            assert not bit.plunges, bit.id
        limits = ((1.0, 24000), (2.0, 18000), (2.5, 16000), (3.5, 12000))
        assert bit.max_rpm == next(
            rpm for inches, rpm in limits if diameter <= inches * INCH + 1e-6
        ), bit.id
        assert bit.reach >= bit.cutting_length + 6.0, bit.id
        assert bit.name != bit.id, bit.id


@EACH_FAMILY
def test_tips_are_not_zero_and_bearings_fit_them(path: Path) -> None:
    for bit in read_library(path):
        if hasattr(bit.shape, "tip"):
            assert bit.shape.tip >= 0.3, bit.id
        if bit.pilot_diameter is not None:
            assert bit.pilot_length == pytest.approx(8.5), bit.id
            assert bit.pilot_diameter <= 22.3, bit.id
            if hasattr(bit.shape, "tip"):
                assert bit.shape.tip == bit.pilot_diameter, bit.id
            if bit.shape.word == "outline":
                assert bit.shape.outline.start == (bit.pilot_diameter / 2.0, 0.0), bit.id


@EACH_FAMILY
def test_the_edge_is_as_long_as_the_shape_needs(path: Path) -> None:
    for bit in read_library(path):
        formula_top = bit.shape.edge().end[1]
        if bit.shape.word != "dovetail":
            assert bit.cutting_length >= formula_top - 1e-6, bit.id
        if bit.shape.word in ("roundover", "cove", "ogee", "reverse-ogee") and bit.pilot_diameter:
            assert 1.5 <= bit.cutting_length - formula_top <= 3.2, bit.id


@EACH_FAMILY
def test_each_bit_can_be_sharpened_a_little(path: Path) -> None:
    for bit in read_library(path):
        worn = replace(bit, measured=2.0 * largest_radius(bit) - 0.1)
        assert 2.0 * largest_radius(worn) == pytest.approx(worn.measured, abs=1e-6), bit.id
        assert 0.0 < silhouette_path(worn).signed_area < silhouette_path(bit).signed_area, bit.id
        assert edge_path(worn).end[1] < bit.cutting_length, bit.id
