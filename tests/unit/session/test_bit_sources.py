from __future__ import annotations

from pathlib import Path

import pytest

from profilestack.bits.edge import largest_radius
from profilestack.bits.shapes import SHAPES
from profilestack.errors import FileError
from profilestack.files.library_file import write_library
from profilestack.files.shipped import drawer_path, read_drawer
from profilestack.jobs.reach import BitReach
from profilestack.jobs.reach_places import Arch
from profilestack.session.bit_sources import (
    DRAWER,
    OWN,
    SHIPPED,
    bits_from,
    in_rows,
    source_about,
    source_said,
    sources_of,
)
from profilestack.session.bits_at_hand import BitsAtHand
from profilestack.session.reach_words import bit_said, good_for
from tests.shop import core_box, stack_of, straight


def test_sources_of_a_document(tmp_path: Path) -> None:
    file = str(tmp_path / "shed.bits.toml")
    write_library([core_box(22.0)], file)
    at_hand = BitsAtHand()
    at_hand.open_library(file)
    at_hand.open_library(file)
    assert sources_of(at_hand) == (DRAWER, SHIPPED, file, OWN)
    assert source_said(file) == "shed.bits.toml"
    assert source_about(file) == file
    assert str(drawer_path()) in source_about(DRAWER)
    stack = stack_of(bits=(straight(7.0),))[0]
    assert bits_from(file, stack).bits == (core_box(22.0),)
    assert bits_from(OWN, stack).bits == (straight(7.0),)
    assert len(bits_from(DRAWER, stack)) < len(bits_from(SHIPPED, stack))
    assert at_hand.find("core-box 22") == core_box(22.0)


def test_a_library_that_cannot_be_read_is_not_opened(tmp_path: Path) -> None:
    at_hand = BitsAtHand()
    with pytest.raises(FileError):
        at_hand.open_library(str(tmp_path / "none.bits.toml"))
    assert at_hand.libraries == ()


def test_rows_hold_every_bit_once_by_shape_and_size() -> None:
    bits = read_drawer().bits
    rows = in_rows(bits)
    assert sorted(bit.id for row in rows for bit in row.bits) == sorted(bit.id for bit in bits)
    assert [row.shape for row in rows] == [word for word in SHAPES if word in
                                           {bit.shape.word for bit in bits}]  # fmt: skip
    for row in rows:
        assert {bit.shape.word for bit in row.bits} == {row.shape}
        radii = [largest_radius(bit) for bit in row.bits]
        assert radii == sorted(radii)


def test_what_a_bit_is_good_for_in_words() -> None:
    hollow, small = Arch(25.4, True, 3), Arch(6.35, True, 5)
    reach = BitReach(0.79, 0.3, True, (hollow,), (hollow, small), 1, 3)
    assert good_for(reach, "in") == (
        "Reaches 79 % of the wanted profile within the tolerance, 30 % in its best pass.",
        "One pass follows the hollow R 1 in.",
        "Follows hollows of R 1/4 in to 1 in.",
        "Reaches into 1 of 3 inside corners.",
    )
    nothing = BitReach(0.0, 0.0, False, why="it is too wide")
    assert good_for(nothing, "mm") == ("Reaches nothing here: it is too wide.",)


def test_a_bit_in_words() -> None:
    said = bit_said(core_box(25.4, 20.0, measured=25.2, plunges=False, note="lent out"), "mm")
    assert said[1] == "core-box, 25.4 mm"
    assert "measured 25.2 mm" in said
    assert "does not plunge: enter from the end" in said
    assert said[-1] == "lent out"
