"""Frozen files of every format version must open for ever; bad files say what is wrong.

The comments of a bad file that start with ``#: `` are what must be told, all of it and in order;
one that ends with ``...`` is only how it must begin (what follows is the TOML reader's own words).
"""

from __future__ import annotations

from pathlib import Path as FilePath

import pytest

from profilestack.bits import Bit
from profilestack.bits.shapes import SHAPES
from profilestack.errors import InputError
from profilestack.files.library_file import library_text, read_library, read_library_text
from profilestack.files.shop_file import read_shop, read_shop_text, shop_text
from profilestack.files.stack_file import read_stack, read_stack_text, stack_text
from profilestack.files.versions import FORMATS
from profilestack.geometry.path import Path
from profilestack.planning.machine import Machine
from profilestack.planning.shop import Shop
from profilestack.planning.species import Species
from profilestack.planning.speeds import USUAL_CHIPS, ChipRange
from profilestack.stack import (
    Blank,
    Pass,
    PathTarget,
    Rectangle,
    Setup,
    Stack,
    StraightRun,
    Tolerance,
)

FILES = FilePath(__file__).parents[2] / "files"
BAD = sorted((FILES / "bad").glob("*.toml"))


def version_1() -> Stack:
    """What tests/files/version-1.stack.toml means; 1 in = 25.4 mm exactly."""
    v_groove = SHAPES["v-groove"](diameter=12.7, angle=90.0, tip=0.5)
    ball = Path((0, 0)).arc((6.35, 6.35), (0, 6.35), "ccw").line((6.35, 12.7))
    return Stack(
        blank=Blank(Rectangle(62.0, 44.45), "yellow-poplar"),
        run=StraightRun(2438.4, 10),
        title='Every key, "once" — ½ in',
        units="in",
        tolerance=Tolerance(0.25, 0.127),
        target=PathTarget(
            Path((0, 44.45)).line((9.525, 44.45)).arc((28.575, 25.4), (9.525, 25.4), "cw")
            .line((62, 25.4))
        ),
        setups=(Setup("edge", 90.0), Setup("tipped", -22.5)),
        passes=(
            Pass("core-box-2in", 35.56, 12.0, "face", 3, 6.35, 50.8, 2133.6, False, True,
                 "mind the\nfence"),
            Pass("own", -12.7, 2.54, "edge"),
        ),
        bits=(
            Bit("own", v_groove, 12.7, 6.35, 50.8, "Own V", 3, 24000.0, False, 19.0, 12.7, 8.0,
                12.6, 24.5, "ground once"),
            Bit("drawn", SHAPES["outline"](outline=ball), 19.05, 6.35, 50.8),
        ),
    )  # fmt: skip


def test_the_frozen_stack_of_version_1_means_what_it_always_meant() -> None:
    stack = read_stack(FILES / "version-1.stack.toml")
    assert stack == version_1()
    assert read_stack_text(stack_text(stack)) == stack


def test_the_frozen_library_of_version_1_opens() -> None:
    library = read_library(FILES / "version-1.bits.toml")
    assert library.ids == (
        "straight", "core-box", "v-groove", "cove", "roundover", "ogee", "reverse-ogee",
        "bullnose", "dovetail", "taper-ball", "outline",
    )  # fmt: skip
    assert all(bit.shape.word == bit.id for bit in library)
    assert library.bit("ogee").shape == SHAPES["ogee"](cove_radius=4, round_radius=5, tip=3)
    assert library.bit("taper-ball").shape == SHAPES["taper-ball"](radius=1.5, angle=5, diameter=6)
    assert read_library_text(library_text(library)).bits == library.bits


def test_the_frozen_shop_of_version_1_means_what_it_always_meant() -> None:
    shop = read_shop(FILES / "version-1.shop.toml")
    assert shop == Shop(
        0.5, 1.0, 12.0, 2.0, 30.0, 5.0, 0.1, 5080.0, 6350.0, 2.0, 3.0, 120.0, 0.508, 50.0, 37.6,
        640.0, 0.7, 'Every key, "once"',
        Machine("cnc-with-changer", 4500.0, 18_000.0, 7000.0, 20_000.0, 10_160.0, 1270.0, 20_320.0,
                250.0, 12.7, 1270.0, 2540.0, 152.4, 127.0, (6.35, 12.0, 12.7), 40.0, 18.0, 0.0,
                6.35),
        (Species("plum", 0.7, "hard", force=45.0),),
        (ChipRange(12.7, "hard", 0.1016, 0.3048), *(c for c in USUAL_CHIPS if c.group != "hard")),
    )  # fmt: skip
    assert read_shop_text(shop_text(shop, "in")) == shop


def test_every_version_of_every_format_has_its_frozen_file() -> None:
    for form in FORMATS:
        ending = form.word.removeprefix("profilestack-")
        for version in range(1, form.version + 1):
            assert (FILES / f"version-{version}.{ending}.toml").exists()


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.name)
def test_a_bad_file_says_all_that_is_wrong_with_it(path: FilePath) -> None:
    text = path.read_text("utf-8")
    expected = [line[3:] for line in text.splitlines() if line.startswith("#: ")]
    read = read_stack if path.name.endswith(".stack.toml") else read_library
    with pytest.raises(InputError) as caught:
        read(path)
    found = [str(problem).removeprefix(f"{path}:").lstrip() for problem in caught.value.problems]
    assert len(found) == len(expected)
    for message, wanted in zip(found, expected, strict=True):
        if wanted.endswith("..."):
            assert message.startswith(wanted[:-3])
        else:
            assert message == wanted


def test_there_are_bad_files() -> None:
    assert len(BAD) > 10
