"""Shop files: read strictly, every problem told, written back to the same shop."""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path

import pytest

from profilestack.errors import InputError
from profilestack.files.shop_file import (
    CUTTING_KEYS,
    MACHINE_KEYS,
    MINUTES_KEYS,
    MONEY_KEYS,
    read_shop,
    read_shop_text,
    shop_text,
    write_shop,
)
from profilestack.planning.machine import Machine
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS, Shop
from profilestack.planning.species import Species
from profilestack.planning.speeds import USUAL_CHIPS, ChipRange

HEAD = 'format = "profilestack-shop/1"\nunits = "mm"\n'
EXAMPLE = Path(__file__).parents[3] / "examples" / "shops" / "small-cnc.shop.toml"


def problems(text: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_shop_text(text, "own.shop.toml")
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("kind", USUAL_SHOPS)
def test_what_is_left_out_is_usual_for_the_kind(kind: str, units: str) -> None:
    text = f'format = "profilestack-shop/1"\nunits = "{units}"\n[machine]\nkind = "{kind}"\n'
    assert read_shop_text(text) == USUAL_SHOPS[kind]
    assert read_shop_text(shop_text(USUAL_SHOPS[kind], units)) == USUAL_SHOPS[kind]


def test_every_figure_is_written_and_read_back(tmp_path: Path) -> None:
    own = [each.name for each in fields(Shop) if each.type == "float"]
    machine = [each.name for each in fields(Machine) if each.type == "float"]
    changed = {key: getattr(USUAL_SHOP, key) * 0.75 for key in own}
    tools = {key: getattr(USUAL_SHOP.machine, key) * 0.75 for key in machine}
    shop = replace(
        USUAL_SHOP, **changed, name='a "shop"', species=(Species("plum", 0.7, force=50.0),),
        machine=Machine(kind="cnc", collets=(3.175, 8.0), **tools),
        chips=(ChipRange(9.0, "hard", 0.1, 0.2), *(c for c in USUAL_CHIPS if c.group != "hard")),
    )  # fmt: skip
    for units in ("mm", "in"):
        path = tmp_path / f"{units}.shop.toml"
        write_shop(shop, path, units)
        assert read_shop(path) == shop


def test_no_figure_lacks_a_key() -> None:
    keys = {key.name for key in (*MINUTES_KEYS, *CUTTING_KEYS, *MONEY_KEYS)}
    assert keys == {each.name for each in fields(Shop) if each.type == "float"}
    assert {key.name for key in MACHINE_KEYS} == {each.name for each in fields(Machine)}


def test_inches_are_read_as_inches() -> None:
    text = (
        'format = "profilestack-shop/1"\nunits = "in"\n[machine]\nkind = "cnc"\n'
        'largest_feed = 200\ncollets = [0.25, "12 mm"]\n[cutting]\nfinish_feed = "2 m"\n'
    )
    shop = read_shop_text(text)
    assert shop.machine.largest_feed == 200 * 25.4
    assert shop.machine.collets == (6.35, 12.0)
    assert shop.finish_feed == 2000.0


def test_all_problems_are_told_at_once() -> None:
    text = HEAD + (
        '[machine]\nkind = "cnc"\npower = -3\nslowest = "fast"\nlargest_feed = 0\n'
        "[minutes]\nchnge = 3\ntest = -1\n"
        '[[species]]\nword = "oak"\ngravity = 4\n'
        '[[chip]]\ndiameter = 3\ngroup = "hrd"\nlow = 2\nhigh = 1\n'
    )
    told = problems(text)
    assert told[0] == "own.shop.toml:5: machine.power: -3 is impossible; expected a number above 0"
    places = [line.split(": ")[1] for line in told]
    assert places == [
        "machine.power", "machine.slowest", "machine.largest_feed", "minutes.chnge",
        "minutes.test", "species[1].gravity", "chip[1].group", "chip[1].low",
    ]  # fmt: skip
    assert "did you mean 'change'?" in told[3]
    assert "did you mean 'hard'?" in told[6]


def test_no_speed_range_is_told_with_the_largest() -> None:
    (told,) = problems(HEAD + '[machine]\nkind = "cnc"\nslowest = 9000\nfastest = 8000\n')
    assert told == (
        "own.shop.toml:5: machine.slowest: 9000 is above the fastest, 8000: no speed is left; "
        "expected at most 8000 rpm"
    )


def test_a_shop_needs_its_machine_and_its_kind() -> None:
    assert problems(HEAD) == ["own.shop.toml: machine: is missing; expected a table [machine]"]
    (told,) = problems(HEAD + '[machine]\nkind = "router table"\n')
    assert "did you mean 'router-table'?" in told


def test_another_document_is_no_shop() -> None:
    (told,) = problems('format = "profilestack-stack/1"\nunits = "mm"\n')
    assert "this is a stack, not a shop" in told


def test_ranges_of_a_group_replace_the_usual_ones_of_that_group() -> None:
    chip = '[[chip]]\ndiameter = 10\ngroup = "soft"\nlow = 0.2\nhigh = 0.3\n'
    shop = read_shop_text(HEAD + '[machine]\nkind = "cnc"\n' + chip)
    # beyond the last size the last one holds
    assert {shop.chip_range(d, "soft").low for d in (3.0, 8.0, 50.0)} == {0.2}
    assert shop.chip_range(8.0, "hard") == USUAL_SHOP.chip_range(8.0, "hard")


def test_the_example_says_the_usual_figures() -> None:
    shop = read_shop(EXAMPLE)
    usual = USUAL_SHOP.machine
    assert replace(shop.machine, collets=usual.collets) == usual
    own = ("name", "machine", "species", "chips")
    for each in fields(Shop):
        if each.name not in own:
            assert getattr(shop, each.name) == getattr(USUAL_SHOP, each.name), each.name
