"""The casing whose quirk no bit enters, fitted to the drawer from the command line."""

from __future__ import annotations

from pathlib import Path

import pytest

from profilestack.bits.library import Library
from profilestack.files.library_file import write_library
from profilestack.files.shipped import SMALL_SHOP, read_bits
from profilestack.files.stack_file import read_stack
from profilestack.stack import MemberTarget
from tests.unit.cli.calling import Call, Folder

AT_HAND = (
    "straight-1-8in",
    "surfacing-2in",
    "core-box-3-8in",
    "point-round-3-16in",
    "v60-1-2in",
    "v120-1in",
)
"""What a shop would lay out for this casing; the rest of its drawer only takes time here."""

QUIRK = 3.175
"""The narrowest flat at hand, 1/8 in; as sampled the quirk is 1.6 wide."""


QUICKLY = ("--resolution", "0.05")
"""Offsets and depths on a coarser grid than usual: a fifth of the candidates."""


@pytest.fixture
def drawer(folder: Folder) -> str:
    bits = tuple(bit for bit in read_bits(SMALL_SHOP).bits if bit.id in AT_HAND)
    assert len(bits) == len(AT_HAND)
    write_library(Library(bits), folder.path / "at-hand.bits.toml")
    return "at-hand.bits.toml"


EDGE = """\
format = "profilestack-stack/1"
units = "mm"
blank = { width = 21.125, thickness = 12 }
run = { kind = "straight", length = 2200 }

[target]
members = [
  { member = "fillet", height = 10 },
  { member = "quirk", width = 1.6, depth = 4.7625, projection = 4.7625 },
  { member = "bead", height = 9.525 },
]
lie = "flat"
back = 7.2375
"""
"""The last 21 mm of the casing, alone."""


def test_with_too_small_a_limit_the_quirk_stays(drawer: str, folder: Folder, call: Call) -> None:
    edge = folder.write("edge.stack.toml", EDGE)
    answer = call("find", edge, "--bits", drawer, "--adapt", "1.5", *QUICKLY, "--json")
    assert answer.code == 1
    assert answer.json["adapted"] == []
    (why,) = answer.json["unfitted"]
    assert (why["member"], why["name"]) == (2, "quirk")
    assert why["why"].endswith("straight-1-8in, needs 3.175 mm")
    # in the quirk, whose sides are at 10 and 11.6, or at the foot of the bead beside it
    assert answer.json["unreached"]
    for stays in answer.json["unreached"]:
        assert 9.9 < stays["from"][0] < stays["to"][0] < 13.5


def test_the_changes_stand_in_the_json(drawer: str, folder: Folder, call: Call) -> None:
    edge = folder.write("edge.stack.toml", EDGE)
    answer = call("find", edge, "--bits", drawer, "--adapt", "1.6", *QUICKLY, "--json")
    fillet, quirk = answer.json["adapted"]
    assert fillet["fitted"] == pytest.approx(10.0 - (QUIRK - 1.6))
    assert (fillet["member"], fillet["bit"], fillet["slack_of"]) == (1, None, [2])
    assert quirk == {
        "member": 2,
        "name": "quirk",
        "key": "width",
        "drawn": 1.6,
        "fitted": QUIRK,
        "bit": "straight-1-8in",
        "slack_of": [],
    }
    assert answer.json["unfitted"] == answer.json["unreached"] == []


def test_widened_nothing_stays(casing: str, drawer: str, folder: Folder, call: Call) -> None:
    found = call(
        "find", casing, "--bits", drawer, "--adapt", "1/16 in + 0.1 mm", *QUICKLY,
        "-o", "fitted.stack.toml", "--plot", "way.svg",
    )  # fmt: skip
    assert found.code == 0, found.out
    said = " ".join(found.out.split())
    assert "No bit reaches" not in said
    assert "member 5, quirk, fits straight-1-8in: width 1.6 mm becomes 3.175 mm" in said
    assert "fillet, takes up the slack of member 5: height 62.35 mm becomes 60.775 mm" in said

    sampled, fitted = read_stack(Path(casing)), read_stack(folder.path / "fitted.stack.toml")
    assert isinstance(sampled.target, MemberTarget)
    assert isinstance(fitted.target, MemberTarget)
    before, after = sampled.target.column, fitted.target.column
    assert after.members[4].width == QUIRK
    assert after.height == before.height
    assert after.box() == before.box()
    assert [k for k in range(6) if before.members[k] != after.members[k]] == [3, 4]

    judged = call("cut", "fitted.stack.toml", "--json").json["comparison"]
    assert max(judged["leftover"]["max"], judged["unreached_max"]) <= fitted.tolerance.leftover
    assert max(judged["overcut"]["max"], judged["overcut"]["missing_max"]) <= 0.10 + 1e-6
    assert (folder.path / "way-1.svg").read_bytes().startswith(b"<?xml")


@pytest.mark.parametrize("limit", ["0", "-1", "200", "wide"])
def test_a_wrong_limit_is_refused(limit: str, casing: str, drawer: str, call: Call) -> None:
    answer = call("find", casing, "--bits", drawer, f"--adapt={limit}")
    assert (answer.code, answer.out) == (2, "")
    assert "adapt" in answer.err


def test_a_wrong_limit_writes_nothing(casing: str, drawer: str, folder: Folder, call: Call) -> None:
    before = folder.names()
    answer = call("find", casing, "--bits", drawer, "--adapt=0", "-o", "new.stack.toml")
    assert answer.code == 2
    assert folder.names() == before
