"""What is told about wrong keys: the key, the line, the value, what was expected, a near word."""

from __future__ import annotations

import tomllib
from pathlib import Path as FilePath

import pytest

from profilestack.bits.shapes import SHAPES
from profilestack.files.bit_keys import shape_keys
from profilestack.targets.member_shapes import MEMBERS
from tests.unit.files.examples import GOOD, messages, spoiled

CASES = tomllib.loads(
    (FilePath(__file__).parents[2] / "files" / "wrong_keys.toml").read_text("utf-8")
)["case"]

ALL_SHAPES = ", ".join(f'"{word}"' for word in SHAPES)
ALL_MEMBERS = ", ".join(f'"{word}"' for word in MEMBERS)
BIT_WORDS = (
    "shape, id, name, cutting_length, shank, length, flutes, max_rpm, plunges, grip, "
    "pilot_diameter, pilot_length, measured, price, note"
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["new"][:40] or case["old"][:40])
def test_one_wrong_key_is_told_by_itself(case: dict[str, str]) -> None:
    assert messages(spoiled(case["old"], case["new"])) == [case["told"]]


def test_an_unknown_shape_names_all_shapes_and_the_nearest() -> None:
    assert messages(spoiled('"core-box"', '"corebox"')) == [
        f'31: bit[1].shape: "corebox" is unknown; expected one of {ALL_SHAPES} '
        "(did you mean 'core-box'?)"
    ]


def test_a_missing_shape_says_nothing_about_the_shape_s_keys() -> None:
    assert messages(spoiled('shape = "core-box"\n', "")) == [
        f"29: bit[1].shape: is missing; expected one of {ALL_SHAPES}"
    ]


def test_a_key_of_other_shapes_says_whose_it_is() -> None:
    owners = [word for word in SHAPES if "cove_radius" in {key.word for key in shape_keys(word)}]
    assert messages(spoiled("diameter = 12", "diameter = 12\ncove_radius = 1")) == [
        f"33: bit[1].cove_radius: is a key of {' or '.join(owners)} alone; "
        f"expected one of {BIT_WORDS}, diameter"
    ]


def test_a_mistyped_table_is_missing_and_unknown() -> None:
    assert messages(spoiled("[run]", "[rum]")) == [
        "run: is missing; expected a table [run]",
        '8: rum: "rum" is no key here; expected one of format, title, units, blank, run, '
        "tolerance, target, setup, pass, bit (did you mean 'run'?)",
    ]


@pytest.mark.parametrize(
    ("target", "told"),
    [
        ("closed = false", ["start: is missing", "path: is missing"]),
        ("", ["12: target: says nothing; expected start and path, or members, or file"]),
        ("start = [0, 45]\npath = []", ["12: target: is one point"]),
        ("start = [0, 45]\npath = [{ to = [0, 45] }]", ["leads to where it starts"]),
        ("start = [9, 0]\npath = [{ to = [9, 45] }]", ["12: target: has no width"]),
        (
            "closed = true\nstart = [0, 9]\npath = [{ to = [9, 9] }, { to = [0, 9] }]",
            ["12: target: encloses nothing: it has no width"],
        ),
        (
            "start = [0, 45]\npath = [{ to = [40, 25] }, { to = [40, 45] }, { to = [0, 25] }]",
            ["12: target: crosses or touches itself near (20.000, 35.000) mm"],
        ),
        (
            "start = [0, 0]\npath = [{ to = [0, 45] }, { to = [62, 45] }, { to = [0, 0] }]",
            ["12: target: ends where it starts; expected closed = true, or two places"],
        ),
        (
            'members = [{ member = "torus", height = 12 }, { membr = "fillet" }]',
            [
                'target.members[2].membr: "membr" is no key here',
                f"target.members[2].member: is missing; expected one of {ALL_MEMBERS}",
            ],
        ),
        ('members = [{ member = "cavet" }]', ["(did you mean 'cavetto'?)"]),
        ("members = 3", ["13: target.members: is the number 3; expected a list such as"]),
        ("members = []", ["13: target.members: is empty"]),
        (
            'members = [{ member = "fillet", height = 9 }]\nlie = "sideways"\nspring = 45',
            ['14: target.lie: "sideways" is unknown'],
        ),
        (
            'members = [{ member = "fillet", height = 9 }]\nspring = 45',
            ["14: target.spring: is for a sprung column alone"],
        ),
        (
            'members = [{ member = "fillet", height = 9 }]\nmirror = 1\nscale = "2"',
            ['15: target.scale: is the text "2"', "14: target.mirror: is the number 1"],
        ),
    ],
)
def test_targets_that_cannot_be(target: str, told: list[str]) -> None:
    start, end = GOOD.index("[target]"), GOOD.index("[[setup]]")
    found = messages(GOOD[:start] + "[target]\n" + target + "\n\n" + GOOD[end:])
    assert len(found) == len(told), found
    for part in told:
        assert any(part in message for message in found), (part, found)


def test_a_flat_target_is_allowed() -> None:
    start, end = GOOD.index("[target]"), GOOD.index("[[setup]]")
    flat = "[target]\nstart = [0, 40]\npath = [{ to = [62, 40] }]\n\n"
    with pytest.raises(AssertionError, match="nothing was refused"):
        messages(GOOD[:start] + flat + GOOD[end:])


def test_a_turned_part_takes_no_setup_whatever_else_is_wrong() -> None:
    text = spoiled('kind = "straight"\nlength = 2400', 'kind = "turned"\npieces = "2"')
    assert messages(text) == [
        '10: run.pieces: is the text "2"; expected a whole number',
        "20: setup[1]: a turned part is cut from its face alone; expected no [[setup]]",
    ]


def test_a_setup_without_a_name_brings_no_echo_from_its_passes() -> None:
    text = spoiled('name = "edge"\n', "").replace("depth = 12", 'depth = 12\nsetup = "edge"')
    assert messages(text) == ['20: setup[1].name: is missing; expected a text in quotes, as "edge"']


def test_a_bit_that_cannot_be_read_still_has_its_id() -> None:
    again = '\n[[bit]]\nid = "ball"\nshape = "cone"\ncutting_length = 1\nshank = 1\nlength = 9\n'
    assert [message.split(";")[0] for message in messages(GOOD + again)] == [
        "38: bit[2].id: 'ball' is there twice",
        '39: bit[2].shape: "cone" is unknown',
    ]


def test_no_control_character_of_a_file_reaches_the_screen() -> None:
    text = spoiled("offset = 35", 'offset = 35\n"\\u001b[31m key" = 1\nsetup = "\\u001b[2J"')
    assert messages(text) == [
        '24: pass[1]."\\u001b[31m key": "\\u001b[31m key" is no key here; expected one of bit, '
        "setup, offset, depth, count, pitch, from, to, on, relief, note",
        "28: pass[1].setup: no setup is called '\\x1b[2J'; expected one of face, edge",
    ]


def test_an_odd_key_has_its_line() -> None:
    (message,) = messages(spoiled("offset = 35", 'offset = 35\n"odd key" = 1'))
    assert message.startswith('27: pass[1]."odd key": "odd key" is no key here')
