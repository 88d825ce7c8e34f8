"""Libraries of bits as files."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import ClassVar

import pytest

from profilestack.bits import Bit, BitShape
from profilestack.bits.shapes import SHAPES
from profilestack.errors import InputError
from profilestack.files import bit_keys
from profilestack.files.library_file import (
    library_text,
    read_library,
    read_library_text,
    write_library,
)
from profilestack.geometry.path import Path

HEAD = 'format = "profilestack-bits/1"\nunits = "in"\n'
BIT = '[[bit]]\nid = "{id}"\nshape = "straight"\ndiameter = 0.5\n' + (
    'cutting_length = 1\nshank = "1/4 in"\nlength = 2\n'
)


def test_a_library_is_named_after_its_file_and_reads_back(tmp_path: FilePath) -> None:
    library = read_library_text(HEAD + BIT.format(id="a") + BIT.format(id="b"), "x/own.bits.toml")
    assert library.name == "own"
    assert library.ids == ("a", "b")
    assert library.bit("a").shape.size == 12.7
    for units in ("mm", "in"):
        path = tmp_path / f"{units}.bits.toml"
        write_library(library, path, units)
        assert read_library(path).bits == library.bits


def test_an_empty_library_is_a_library() -> None:
    assert read_library_text(HEAD).bits == ()
    assert read_library_text(library_text(())).bits == ()


def test_an_id_that_is_there_twice_is_told_with_both_places() -> None:
    with pytest.raises(InputError) as caught:
        read_library_text(HEAD + BIT.format(id="a") * 3, "l.bits.toml")
    assert [str(problem) for problem in caught.value.problems] == [
        'l.bits.toml:11: bit[2].id: "a" is there twice, first as bit[1]; expected a new id',
        'l.bits.toml:18: bit[3].id: "a" is there twice, first as bit[1]; expected a new id',
    ]


def test_a_library_has_no_other_tables() -> None:
    with pytest.raises(InputError, match='3: blank: "blank" is no key here'):
        read_library_text(HEAD + "[blank]\nwidth = 3\n")


@dataclass(frozen=True, slots=True)
class Fang(BitShape):
    """A shape of a later day, with a field of every kind."""

    word: ClassVar[str] = "fang"
    angle_keys: ClassVar[frozenset[str]] = frozenset({"lean"})
    width: float
    lean: float
    side: Path
    teeth: int
    curved: bool = False
    chip: float | None = None

    @property
    def size(self) -> float:
        """As wide as it is."""
        return self.width

    def edge(self) -> Path:
        """As drawn."""
        return self.side


def test_a_new_shape_needs_no_change_of_the_readers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(SHAPES, "fang", Fang)
    word = bit_keys.Key("shape", bit_keys.Word(tuple(SHAPES)), required=True)
    monkeypatch.setattr(bit_keys, "SHAPE_KEY", word)
    text = HEAD + (
        '[[bit]]\nid = "f"\nshape = "fang"\nwidth = 0.5\nlean = 30\nteeth = 3\ncurved = true\n'
        "side = { start = [0, 0], path = [{ to = [0.25, 1] }] }\n"
        "cutting_length = 1\nshank = 0.25\nlength = 2\n"
    )
    side = Path((0, 0)).line((6.35, 25.4))
    shape = Fang(12.7, 30.0, side, 3, curved=True)
    (bit,) = read_library_text(text).bits
    assert bit == Bit("f", shape, cutting_length=25.4, shank=6.35, length=50.8)
    assert read_library_text(library_text([bit])).bits == (bit,)
    with pytest.raises(InputError, match=r"lean: is the text .* an angle in degrees"):
        read_library_text(text.replace("lean = 30", 'lean = "30"'))
    with pytest.raises(InputError, match=r"teeth: is missing; expected a whole number"):
        read_library_text(text.replace("teeth = 3\n", ""))
