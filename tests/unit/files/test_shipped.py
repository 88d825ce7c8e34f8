"""The shipped libraries and the drawer."""

from __future__ import annotations

from pathlib import Path as FilePath

import pytest

from profilestack.errors import FileError, InputError
from profilestack.files.shipped import (
    ALL,
    DRAWER_VARIABLE,
    SMALL_SHOP,
    drawer_path,
    library_files,
    read_bits,
    read_drawer,
    shipped_library_dir,
    shipped_library_names,
)


def test_every_shipped_library_opens_and_its_ids_are_told_apart() -> None:
    seen: dict[str, str] = {}
    for path in library_files(ALL):
        for bit in read_bits(path):
            assert bit.id not in seen, f"{bit.id} is in {seen[bit.id]} and in {path.name}"
            seen[bit.id] = path.name
    assert seen
    assert read_bits(ALL).ids == tuple(seen)


def test_the_small_shop_s_bits_are_those_of_the_other_files() -> None:
    everything = read_bits(ALL)
    small = read_bits(SMALL_SHOP)
    assert len(small) > 0
    for bit in small:
        assert everything.bit(bit.id) == bit


def test_names_and_files() -> None:
    assert {ALL, SMALL_SHOP} <= set(shipped_library_names())
    assert library_files(SMALL_SHOP) == (shipped_library_dir() / "small-shop.bits.toml",)
    assert library_files("own.bits.toml") == (FilePath("own.bits.toml"),)
    with pytest.raises(InputError, match="no library is called '@smal-shop'.*'@small-shop'"):
        library_files("@smal-shop")


def test_the_drawer_of_a_new_machine_is_the_small_shop(
    tmp_path: FilePath, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(DRAWER_VARIABLE, str(tmp_path / "drawer.bits.toml"))
    assert drawer_path() == tmp_path / "drawer.bits.toml"
    assert read_drawer() == read_bits(SMALL_SHOP)
    drawer_path().write_text('format = "profilestack-bits/1"\nunits = "mm"\n', "utf-8")
    assert read_drawer().bits == ()
    drawer_path().write_text("format = 3\n", "utf-8")
    with pytest.raises(InputError, match="format: is the number 3"):
        read_drawer()


def test_the_drawer_s_usual_place_is_the_user_s_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(DRAWER_VARIABLE, raising=False)
    assert drawer_path().name == "drawer.bits.toml"
    assert drawer_path().parent.name == "profilestack"


def test_a_library_that_is_not_there_is_named(tmp_path: FilePath) -> None:
    with pytest.raises(FileError, match="there is no such file"):
        read_bits(tmp_path / "none.bits.toml")
