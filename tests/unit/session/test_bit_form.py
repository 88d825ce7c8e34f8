from __future__ import annotations

import pytest

from profilestack.bits.shapes import SHAPES, CoreBox
from profilestack.errors import InputError
from profilestack.files.bit_keys import BIT_KEYS, shape_keys
from profilestack.files.shipped import ALL, read_bits
from profilestack.session.bit_form import (
    bit_of,
    filled_from,
    form_keys,
    new_bit,
    suggested_id,
    with_shape,
)


@pytest.mark.parametrize("shape", SHAPES)
def test_a_form_has_every_key_of_its_shape_once(shape: str) -> None:
    words = [key.word for key in form_keys(shape)]
    assert sorted(words) == sorted(key.word for key in (*BIT_KEYS, *shape_keys(shape)))
    assert words[0] == "id"
    assert all(key.label for key in form_keys(shape))


def test_angles_are_no_lengths_and_speeds_say_their_unit() -> None:
    by_word = {key.word: key for key in form_keys("v-groove")}
    assert by_word["angle"].sort == "angle"
    assert by_word["tip"].sort == "length"
    assert by_word["max_rpm"].unit == "rpm"
    assert by_word["plunges"].sort == "flag"
    assert {key.word: key for key in form_keys("outline")}["outline"].sort == "outline"


def test_every_shipped_bit_comes_back_from_its_form() -> None:
    bits = read_bits(ALL).bits
    assert len(bits) > 300
    for bit in bits:
        assert bit_of(filled_from(bit)) == bit


@pytest.mark.parametrize("shape", [word for word in SHAPES if word != "outline"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_new_form_is_a_sound_bit_but_for_its_name(shape: str, units: str) -> None:
    filled = new_bit(shape, units)
    name = suggested_id(filled, units)
    assert name.startswith(shape)
    assert bit_of({**filled, "id": name}).shape.word == shape


def test_another_shape_keeps_what_both_have() -> None:
    filled = new_bit("core-box", "mm") | {"diameter": 19.0, "shank": 8.0, "id": "mine"}
    changed = with_shape(filled, "v-groove")
    assert changed["diameter"] == 19.0
    assert changed["shank"] == 8.0
    assert changed["angle"] == 90.0
    assert "angle" not in with_shape(changed, "core-box")
    assert bit_of(with_shape(changed, "core-box")).shape == CoreBox(19.0)


def test_all_problems_are_told_at_their_keys() -> None:
    with pytest.raises(InputError) as caught:
        bit_of({"shape": "v-groove", "id": "x", "diameter": 10.0, "angle": 200.0, "tip": -1.0,
                "cutting_length": 20.0, "shank": -6.0, "length": 60.0})  # fmt: skip
    assert {problem.where for problem in caught.value.problems} == {"angle", "tip", "shank"}


def test_what_is_missing_is_told_too() -> None:
    with pytest.raises(InputError) as caught:
        bit_of({"shape": "cove"})
    missing = {problem.where for problem in caught.value.problems}
    assert missing == {"id", "radius", "cutting_length", "shank", "length"}


def test_no_name_is_suggested_for_an_impossible_bit() -> None:
    assert suggested_id({**new_bit("straight", "mm"), "diameter": -1.0}, "mm") == ""
