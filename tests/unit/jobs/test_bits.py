from __future__ import annotations

from pathlib import Path

import pytest

from profilestack.errors import InputError
from profilestack.jobs.bits import (
    TABLE_HEAD,
    bit_of,
    choose_bits,
    read_libraries,
    summaries,
    table_rows,
    write_bit_picture,
)

OWN = """\
format = "profilestack-bits/1"
units = "mm"

[[bit]]
id = "core-box-2in"
shape = "core-box"
diameter = 50.8
cutting_length = 31.75
shank = 12.7
length = 79.375
measured = 50.5

[[bit]]
id = "own-round"
shape = "roundover"
radius = 10
tip = 2
cutting_length = 12
shank = 8
length = 50
"""


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("PROFILESTACK_DRAWER", str(tmp_path / "no-drawer.bits.toml"))
    path = tmp_path / "own.bits.toml"
    path.write_text(OWN, encoding="utf-8")
    return str(path)


def test_without_a_file_the_drawer_is_listed(own: str) -> None:
    assert len(choose_bits()) == 40
    assert choose_bits([own]).ids == ("core-box-2in", "own-round")


def test_the_first_library_wins(own: str) -> None:
    both = read_libraries([own, "@small-shop"])
    assert both.bit("core-box-2in").measured == 50.5
    assert len(both) == 41


def test_bits_are_chosen_by_shape_size_and_words(own: str) -> None:
    wide = choose_bits(["@small-shop"], shapes=["core-box"], smallest=25.4)
    assert wide.ids == ("core-box-1in", "core-box-1-1-2in", "core-box-2in")
    plunging = choose_bits(["@small-shop"], search="plunging roundover")
    assert set(plunging.ids) == {
        "point-round-3-16in",
        "point-round-3-8in",
        "point-round-1-2in",
        "point-round-1in",
    }
    assert choose_bits([own], largest=30.0).ids == ("own-round",)


def test_a_bit_is_found_in_the_files_the_drawer_or_the_shipped_library(own: str) -> None:
    assert bit_of("core-box-2in", [own]).measured == 50.5
    assert bit_of("core-box-2in").measured is None
    assert bit_of("straight-12mm").shank == 8.0
    with pytest.raises(InputError, match="did you mean 'core-box-2in'"):
        bit_of("core-bx-2in")


def test_summaries_are_in_mm_and_count_wear(own: str) -> None:
    core, round_ = summaries(choose_bits([own]))
    assert core.diameter == pytest.approx(50.5)
    assert core.cutting_length == pytest.approx(31.75 - 0.15)
    assert core.reach == pytest.approx(79.375 - 20.0 - 3.0)
    assert (round_.kind, round_.shape) == ("point-cutting roundover", "roundover")
    assert (round_.undercut, round_.bearing, round_.plunges) == (False, False, True)


def test_rows_are_in_the_units_asked_for(own: str) -> None:
    rows = table_rows(choose_bits([own]), "mm")
    assert all(len(row) == len(TABLE_HEAD) for row in rows)
    assert rows[0][:4] == ("core-box-2in", "core-box", "50.8 mm (measured 50.5 mm)", "31.6 mm")
    assert rows[1][2:] == (
        "R 10 mm, tip 2 mm",
        "12 mm",
        "8 mm",
        "50 mm",
        "27 mm",
        "not marked",
        "yes",
    )
    (row,) = table_rows([bit_of("point-round-1-2in")], "in")
    assert row[2] == "R 1/2 in, tip 1/8 in"
    assert row[7] == "18,000"


def test_a_picture_is_written_by_its_suffix(own: str, tmp_path: Path) -> None:
    bit = bit_of("ogee-5-32in")
    starts = {"png": b"\x89PNG", "svg": b"<?xml", "pdf": b"%PDF"}
    for kind, start in starts.items():
        path = tmp_path / f"bit.{kind}"
        written = write_bit_picture(bit, path, "in")
        data = path.read_bytes()
        assert data.startswith(start)
        assert (written.kind, written.size) == (kind, len(data))
    with pytest.raises(InputError, match="picture"):
        write_bit_picture(bit, tmp_path / "bit.doc", "in")
    assert not (tmp_path / "bit.doc").exists()
