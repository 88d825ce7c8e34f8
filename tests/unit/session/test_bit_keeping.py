from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from profilestack.bits.shapes import CoreBox
from profilestack.errors import FileError, InputError
from profilestack.files.library_file import read_library
from profilestack.files.shipped import SMALL_SHOP, drawer_path, read_bits, read_drawer
from profilestack.session.bit_keeping import (
    keep_in_drawer,
    keep_in_library,
    put_back,
    take_from_drawer,
    with_bit_kept,
    without_bit,
)
from profilestack.session.bits_at_hand import BitsAtHand
from tests.shop import core_box, stack_of


@pytest.fixture(autouse=True)
def own_drawer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    place = tmp_path / "config" / "drawer.bits.toml"
    monkeypatch.setenv("PROFILESTACK_DRAWER", str(place))
    return place


def test_first_bit_kept_in_the_drawer_comes_to_the_shipped_ones() -> None:
    shipped = read_bits(SMALL_SHOP)
    mine = core_box(22.0)
    kept = keep_in_drawer(mine)
    assert kept.path == drawer_path()
    assert kept.count == len(shipped) + 1
    assert read_drawer().bits == (*shipped.bits, mine)
    assert read_library(drawer_path()).units == shipped.units


def test_changed_bit_takes_the_place_of_the_former_one() -> None:
    before = read_drawer()
    worn = replace(before.bit("core-box-2in"), measured=50.5)
    keep_in_drawer(worn, former="core-box-2in")
    assert read_drawer().ids == before.ids
    assert read_drawer().bit("core-box-2in") == worn


def test_renamed_bit_stays_one_bit() -> None:
    before = read_drawer()
    keep_in_drawer(replace(before.bit("core-box-2in"), id="big-box"), former="core-box-2in")
    assert len(read_drawer()) == len(before)
    assert "core-box-2in" not in read_drawer()


def test_another_bit_of_that_name_is_refused_and_nothing_is_written() -> None:
    with pytest.raises(InputError, match="is there already"):
        keep_in_drawer(replace(core_box(22.0), id="core-box-2in"))
    assert not drawer_path().exists()


def test_what_was_kept_can_be_put_back() -> None:
    before = read_drawer()
    kept = keep_in_drawer(core_box(22.0))
    put_back(kept)
    assert read_drawer().bits == before.bits
    kept = take_from_drawer("core-box-2in")
    assert kept.count == len(before) - 1
    assert "core-box-2in" not in read_drawer()
    put_back(kept)
    assert read_drawer().bits == before.bits


def test_a_new_library_is_made_in_the_units_asked_for(tmp_path: Path) -> None:
    place = tmp_path / "shop" / "own.bits.toml"
    assert keep_in_library(place, core_box(25.4), units="in").count == 1
    assert keep_in_library(place, core_box(12.7), units="mm").count == 2
    library = read_library(place)
    assert library.units == "in"
    assert [bit.shape for bit in library] == [CoreBox(25.4), CoreBox(12.7)]


def test_a_library_has_its_own_ending(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"\.bits\.toml"):
        keep_in_library(tmp_path / "own.toml", core_box(25.4))


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "shop").write_text("a file, no folder")
    with pytest.raises(FileError, match="shop"):
        keep_in_library(tmp_path / "shop" / "deeper" / "own.bits.toml", core_box(25.4))


def test_a_bit_kept_in_the_document_is_one_edit() -> None:
    old = core_box(20.0)
    stack, _ = stack_of((old, 30.0, 5.0), (old, 40.0, 5.0), bits=(old,))
    new = replace(old, id="box", measured=19.8)
    changed, label = with_bit_kept(stack, new, former=old.id)
    assert changed.bits == (new,)
    assert [single.bit for single in changed.passes] == ["box", "box"]
    assert label == "Change bit box"


def test_a_shipped_bit_that_passes_use_is_changed_for_this_document_alone() -> None:
    old = read_drawer().bit("core-box-2in")
    stack, _ = stack_of((old, 30.0, 5.0))
    changed, label = with_bit_kept(stack, replace(old, measured=50.5), former=old.id)
    assert changed.bits == (replace(old, measured=50.5),)
    assert label == "Change bit core-box-2in"
    assert BitsAtHand().bits_of(changed)["core-box-2in"].measured == 50.5


def test_a_new_bit_of_the_document() -> None:
    changed, label = with_bit_kept(stack_of()[0], core_box(22.0))
    assert (changed.bits, label) == ((core_box(22.0),), "Add bit core-box 22")
    with pytest.raises(InputError, match="is there already"):
        with_bit_kept(changed, replace(core_box(30.0), id="core-box 22"))
    assert without_bit(changed, "core-box 22")[0] == stack_of()[0]
