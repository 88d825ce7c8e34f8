"""docs/file-formats.md names every key, and its examples are read."""

from __future__ import annotations

import re
from pathlib import Path as FilePath

import pytest

from profilestack.bits.shapes import SHAPES
from profilestack.files.bit_keys import BIT_KEYS, shape_keys
from profilestack.files.library_file import TOP_KEYS as LIBRARY_KEYS
from profilestack.files.library_file import read_library_text
from profilestack.files.shop_file import (
    CHIP_KEYS,
    CUTTING_KEYS,
    MACHINE_KEYS,
    MINUTES_KEYS,
    MONEY_KEYS,
    SPECIES_KEYS,
    read_shop_text,
)
from profilestack.files.shop_file import TOP_KEYS as SHOP_KEYS
from profilestack.files.stack_file import (
    KIND,
    PASS_KEYS,
    RUNS,
    SETUP_KEYS,
    SPECIES,
    STOCKS,
    TOLERANCE_KEYS,
    TOP_KEYS,
    read_stack_text,
)
from profilestack.files.target_keys import COLUMN_KEYS, FILE_KEYS, MEMBER_KEYS, TYPED_KEYS
from profilestack.planning.figures import FIGURES
from profilestack.planning.shop import USUAL_SHOPS
from profilestack.stack import MemberTarget

PAGE = (FilePath(__file__).parents[3] / "docs" / "file-formats.md").read_text("utf-8")
BLOCKS = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)


def rows(heading: str) -> list[str]:
    """The first column of the tables under a heading, of keys in backquotes."""
    part = PAGE.split(f"\n{heading}\n")[1].split("\n### ")[0].split("\n## ")[0]
    return re.findall(r"^\| `([a-z_-]+)` \|", part, re.MULTILINE)


KEYS = {
    "### At the top": [key.word for key in TOP_KEYS],
    "### `[blank]`": [key.word for _, keys in STOCKS.values() for key in keys] + [SPECIES.word],
    "### `[run]`": [KIND.word] + [key.word for _, keys in RUNS.values() for key in keys],
    "### `[tolerance]`": [key.word for key in TOLERANCE_KEYS],
    "### `[target]`": [key.word for key in (*TYPED_KEYS, *COLUMN_KEYS, *FILE_KEYS, *MEMBER_KEYS)],
    "### `[[setup]]`": [key.word for key in SETUP_KEYS],
    "### `[[pass]]`": [key.word for key in PASS_KEYS],
    "### Of a shop, at the top": [key.word for key in SHOP_KEYS],
    "### `[machine]`": [key.word for key in MACHINE_KEYS],
    "### `[minutes]`": [key.word for key in MINUTES_KEYS],
    "### `[cutting]`": [key.word for key in CUTTING_KEYS],
    "### `[money]`": [key.word for key in MONEY_KEYS],
    "### `[[species]]`": [key.word for key in SPECIES_KEYS],
    "### `[[chip]]`": [key.word for key in CHIP_KEYS],
    "### `[[bit]]`": [key.word for key in BIT_KEYS] + ["shape", *SHAPES],
}


@pytest.mark.parametrize("heading", KEYS)
def test_every_key_has_its_row(heading: str) -> None:
    assert set(rows(heading)) == set(KEYS[heading])


@pytest.mark.parametrize("word", SHAPES)
def test_every_shape_s_keys_are_named(word: str) -> None:
    # a blank has an outline too; the shapes stand last
    row = re.findall(rf"^\| `{word}` \| (.*) \|$", PAGE, re.MULTILINE)[-1]
    assert set(re.findall(r"`([a-z_]+)[ `]", row)) == {key.word for key in shape_keys(word)}


def test_a_library_has_no_other_keys_at_the_top() -> None:
    assert {key.word for key in LIBRARY_KEYS} == {"format", "units"}


def test_the_usual_figures_stand_on_the_page() -> None:
    """Each row of a shop's tables: the usual value by kind of machine, as the code has it."""
    for figure in FIGURES:
        (row,) = re.findall(rf"^\| `{figure.key}` \| {re.escape(figure.words)}.*$", PAGE, re.M)
        cells = [cell.strip() for cell in row.split("|")[4:8]]
        for cell, shop in zip(cells, USUAL_SHOPS.values(), strict=True):
            owner = shop.machine if figure.table == "machine" else shop
            value = getattr(owner, figure.key)
            listed = value if isinstance(value, tuple) else (value,)
            words = [f"{each:g}" if isinstance(each, float) else f'`"{each}"`' for each in listed]
            assert cell == ", ".join(words), figure.key


@pytest.mark.parametrize("text", BLOCKS, ids=lambda text: text.split('"')[1] + text[-20:])
def test_the_examples_are_read(text: str) -> None:
    if "profilestack-bits" in text:
        assert read_library_text(text).bits
    elif "profilestack-shop" in text:
        assert read_shop_text(text).machine.kind == "router-table"
    else:
        assert read_stack_text(text).run.pieces >= 1


def test_the_tuscan_base_runs_as_the_page_says() -> None:
    (text,) = [block for block in BLOCKS if "Tuscan" in block]
    target = read_stack_text(text).target
    assert isinstance(target, MemberTarget)
    path = target.path()
    corners = [path.start, *(step.to for step in path.steps)]
    said = [(0, 32), (12, 32), (15, 29), (15, 26), (15, 14), (21, 14), (21, 0)]
    assert len(corners) == len(said)
    for corner, wanted in zip(corners, said, strict=True):
        assert corner == pytest.approx(wanted)
