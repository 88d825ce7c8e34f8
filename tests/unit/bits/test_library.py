from __future__ import annotations

from typing import Any

import pytest

from profilestack.bits import SHAPES, Bit
from profilestack.bits.library import Library, filtered
from profilestack.bits.words import kind_of, matches
from profilestack.errors import InputError


def made(id: str, word: str, keys: dict[str, Any], **rest: Any) -> Bit:
    return Bit(id, SHAPES[word](**keys), 20.0, 12.7, 90.0, **rest)


STRAIGHT = made("straight-3-4in", "straight", {"diameter": 19.05})
UNDERSIZE = made("straight-23-32in", "straight", {"diameter": 18.25625})
CORE = made("core-box-2in", "core-box", {"diameter": 50.8})
POINT = made("point-3-8", "roundover", {"radius": 9.525, "tip": 3.175})
BEARING = made(
    "round-3-8",
    "roundover",
    {"radius": 9.525, "tip": 12.7},
    pilot_diameter=12.7,
    pilot_length=8.5,
)
BULLNOSE = made("bull-1-2", "bullnose", {"radius": 6.35, "tip": 9.525})
CHAMFER = made(
    "ch45",
    "v-groove",
    {"diameter": 38.1, "angle": 90.0, "tip": 12.7},
    pilot_diameter=12.7,
    pilot_length=8.5,
)
BOWL = made("bowl-1-4", "cove", {"radius": 6.35, "tip": 19.05})
RABBET = made("rabbet-35", "straight", {"diameter": 35.0}, name="Rabbeting 35 mm")
DRAWER = Library(
    (STRAIGHT, UNDERSIZE, CORE, POINT, BEARING, BULLNOSE, CHAMFER, BOWL, RABBET), "drawer"
)


def test_a_bit_is_found_by_its_id() -> None:
    assert DRAWER.bit("core-box-2in") is CORE
    assert "core-box-2in" in DRAWER
    assert "core-box-3in" not in DRAWER
    assert len(DRAWER) == 9
    assert list(DRAWER) == list(DRAWER.bits)
    assert DRAWER.ids[0] == "straight-3-4in"


def test_an_unknown_id_is_answered_with_the_nearest() -> None:
    with pytest.raises(InputError, match=r"did you mean 'core-box-2in'") as caught:
        DRAWER.bit("corebox-2in")
    assert "in drawer" in str(caught.value)


def test_an_id_may_be_there_only_once() -> None:
    with pytest.raises(InputError) as caught:
        Library((CORE, STRAIGHT, CORE))
    assert [problem.where for problem in caught.value.problems] == ["bit[3].id"]


def test_joining_keeps_the_first_of_an_id() -> None:
    other = made("core-box-2in", "core-box", {"diameter": 50.5})
    joined = DRAWER.joined(Library((other, made("new", "straight", {"diameter": 3.0}))))
    assert joined.bit("core-box-2in") is CORE
    assert joined.ids == (*DRAWER.ids, "new")


def test_filters_by_shape_and_size_can_be_put_together() -> None:
    assert filtered(DRAWER).bits == DRAWER.bits
    assert filtered(DRAWER, shapes=["bullnose"]).bits == (BULLNOSE,)
    assert filtered(DRAWER, shapes=["straight"], smallest=19.05).bits == (STRAIGHT, RABBET)
    assert filtered(DRAWER, shapes=["straight"], largest=19.05).bits == (STRAIGHT, UNDERSIZE)
    assert filtered(DRAWER, smallest=19.0, largest=19.1).bits == (STRAIGHT, BULLNOSE)[:1]
    assert filtered(DRAWER, smallest=100.0).bits == ()


def test_an_unknown_shape_is_answered_with_the_nearest() -> None:
    with pytest.raises(InputError, match="did you mean 'roundover'"):
        filtered(DRAWER, shapes=["roundovr"])


@pytest.mark.parametrize(
    ("bit", "kind"),
    [
        (STRAIGHT, "straight"),
        (CORE, "core-box"),
        (POINT, "point-cutting roundover"),
        (BEARING, "bearing roundover"),
        (BULLNOSE, "bullnose"),
        (CHAMFER, "chamfer"),
        (BOWL, "bowl"),
        (made("o", "ogee", {"cove_radius": 4, "round_radius": 4, "tip": 2}), "point-cutting ogee"),
        (
            made("r", "reverse-ogee", {"cove_radius": 4, "round_radius": 4, "tip": 12.7}),
            "reverse ogee",
        ),
    ],
)
def test_kinds_are_narrower_than_shapes(bit: Bit, kind: str) -> None:
    assert kind_of(bit) == kind


@pytest.mark.parametrize(
    ("search", "found"),
    [
        ("bullnose", (BULLNOSE,)),
        ("half-round", (BULLNOSE,)),
        ("half round", (BULLNOSE,)),
        ("point-cutting roundover", (POINT,)),
        ("plunging roundover", (POINT,)),
        ("Plunging Round-over", (POINT,)),
        ("roundover", (POINT, BEARING)),
        ("rebate", (RABBET,)),
        ("rabbet", (RABBET,)),
        ("tray", (BOWL,)),
        ("bevel", (CHAMFER,)),
        ("round nose", (CORE,)),
        ("straight 3-4in", (STRAIGHT,)),
        ("2in", (UNDERSIZE, CORE)[1:]),
        ("nonsense", ()),
    ],
)
def test_a_search_knows_other_names(search: str, found: tuple[Bit, ...]) -> None:
    assert filtered(DRAWER, search=search).bits == found
    assert tuple(bit for bit in DRAWER if matches(bit, search)) == found
