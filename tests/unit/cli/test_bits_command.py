"""``profilestack bits``: lists, checks and draws."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from profilestack.files.shipped import read_bits
from tests.unit.cli.calling import BOARD, HOLLOW, Call, Folder

MIXED = (
    HOLLOW.format(diameter=20)
    + """\
measured = 19.9

[[bit]]
id = "a-round-with-a-name-that-is-much-longer-than-its-column"
name = "Round, \\u001b[31mred"
shape = "roundover"
radius = "1/2 in"
tip = 9.5
cutting_length = 15
shank = 8
length = 60
max_rpm = 18000
plunges = false
flutes = 1
pilot_diameter = 9.5
pilot_length = 8
price = 42.5
note = "from the old box"
"""
)


@pytest.fixture
def mixed(folder: Folder) -> str:
    return folder.write("mixed.bits.toml", MIXED)


def test_without_a_file_the_drawer_is_listed(folder: Folder, call: Call) -> None:
    answer = call("bits")
    assert answer.code == 0
    said = " ".join(answer.out.split())
    assert said.startswith("The shipped small shop's drawer: 40 bits. Your own would lie in ")
    assert "".join(str(folder.path / "drawer.bits.toml").split()) in "".join(answer.out.split())
    for bit in read_bits("@small-shop"):
        assert re.search(rf"^{bit.id} ", answer.out, re.MULTILINE)
    folder.write("drawer.bits.toml", HOLLOW.format(diameter=20))
    own = call("bits").out
    assert " ".join(own.split()).startswith("Your drawer, ")
    assert "1 bit." in own


def test_the_table(mixed: str, call: Call) -> None:
    assert call("bits", mixed).out == TABLE


TABLE = """\
mixed.bits.toml: 2 bits. The file is in order.

                        edge shank tip to    top
id     size mm            mm    mm nut mm    rpm plunges
core-box:
hollow 20              11.95  8.00  37.00      - yes
       measured 19.9 mm
bearing roundover:
a-round-with-a-name-that-is-much-longer-than-its-column
       R 12.7, tip 9.5 15.00  8.00  37.00 18,000 no

R is a radius, tip the flat at the bottom (its diameter). Sizes are nominal:
measure your own bits. The speed marked on a bit comes before the one here.
Where "-" stands for it, the file tells none.
"""


@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_shipped_bit_fits_the_page(units: str, call: Call) -> None:
    lines = call("bits", "@all", "--units", units).out.splitlines()
    assert all(len(line) <= 80 for line in lines)
    assert all(line == line.rstrip() for line in lines)
    ids = [line.split()[0] for line in lines if line]
    assert set(read_bits("@all").ids) <= set(ids)


def test_each_kind_is_headed_once(call: Call) -> None:
    heads = re.findall(r"^([\w -]+):$", call("bits", "@all").out, re.MULTILINE)
    assert len(heads) == len(set(heads)) > 10


def test_units_are_those_of_the_files_unless_asked(mixed: str, call: Call) -> None:
    assert "size in " in call("bits", "@small-shop").out
    assert "size mm " in call("bits", mixed).out
    assert "size mm " in call("bits", mixed, "@small-shop").out
    assert "size mm " in call("bits", "@small-shop", "--units", "mm").out


def shown(call: Call, *arguments: str) -> list[str]:
    """The ids that are listed."""
    answer = call("bits", *arguments, "--json")
    assert answer.code == 0
    return [bit["id"] for bit in answer.json["bits"]]


def test_bits_are_chosen_by_shape_size_and_words(call: Call) -> None:
    hollows = ["core-box-1in", "core-box-1-1-2in", "core-box-2in"]
    small = ("@small-shop", "--shape", "core-box")
    assert shown(call, *small, "--size", "1..2") == hollows  # the files are in inches
    assert shown(call, *small, "--size", "25.4 mm..") == hollows
    assert shown(call, *small, "--units", "mm", "--size", "25.4..50.8") == hollows
    assert shown(call, *small, "--size", "1-1/2 in") == ["core-box-1-1-2in"]
    assert shown(call, *small, "--size", "..1/4") == ["core-box-1-4in", "ball-1-4in"]
    both = shown(call, "@small-shop", "--shape", "ogee", "--shape", "bullnose")
    assert both == ["ogee-5-32in", "bullnose-1-2in"]
    assert shown(call, "@small-shop", "--search", "rebate") == ["rabbet-1-3-8in"]
    assert shown(call, "@small-shop", "--search", "no such words") == []


def test_nothing_found_is_no_fault(call: Call) -> None:
    answer = call("bits", "@small-shop", "--search", "no such words")
    assert (answer.code, answer.out) == (0, "@small-shop: 0 of 40 bits.\n")


def test_json_tells_lengths_in_mm(mixed: str, call: Call) -> None:
    answer = call("bits", mixed, "--json", "--units", "in").json
    assert answer["format"] == "profilestack-bits-list/1"
    hollow, round_ = answer["bits"]
    assert hollow == {
        "id": "hollow",
        "name": "hollow",
        "kind": "core-box",
        "shape": "core-box",
        "diameter": pytest.approx(19.9),
        "cutting_length": pytest.approx(12.0 - 0.05),  # zeroed again at its worn tip
        "shank": 8.0,
        "length": 60.0,
        "reach": 37.0,
        "flutes": 2,
        "max_rpm": None,
        "plunges": True,
        "undercut": False,
        "bearing": False,
    }
    assert round_["diameter"] == pytest.approx(2 * 12.7 + 9.5)
    assert round_["bearing"] is True


def test_one_bit_is_told(mixed: str, call: Call) -> None:
    answer = call(
        "bits", mixed, "--show", "a-round-with-a-name-that-is-much-longer-than-its-column"
    )
    assert answer.code == 0
    assert "\x1b" not in answer.out
    told = dict(re.findall(r"^  (\S[\w -]{9}) +(.*)$", answer.out, re.MULTILINE))
    assert {key.strip(): value for key, value in told.items()} == {
        "kind": "bearing roundover",
        "size": "R 12.7 mm, tip 9.5 mm",
        "edge": "15 mm long; 1 flute",
        "shank": "8 mm",
        "overall": "60 mm, 20 mm of it in the collet",
        "tip to nut": "37 mm",
        "top speed": "18,000 rpm",
        "plunges": "no",
        "bearing": "9.5 mm across, 8 mm below the edge",
        "price": "42.5",
        "note": "from the old box",
    }
    assert "measure your own bits" in answer.out


def test_a_bit_is_shown_from_anywhere(mixed: str, call: Call) -> None:
    assert call("bits", mixed, "--show", "core-box-2in").code == 0
    assert call("bits", "--show", "straight-12mm").code == 0
    unknown = call("bits", mixed, "--show", "hollo")
    assert (unknown.code, unknown.out) == (2, "")
    assert "did you mean 'hollow'?" in unknown.err


def test_a_bit_is_drawn_at_its_own_size(mixed: str, folder: Folder, call: Call) -> None:
    told = call("bits", mixed, "--show", "hollow").out
    for kind, start in {"png": b"\x89PNG", "svg": b"<?xml", "pdf": b"%PDF"}.items():
        answer = call("bits", mixed, "--show", "hollow", "-o", f"bit.{kind}")
        assert answer.code == 0
        assert answer.out.startswith(told)
        assert answer.out.endswith(f": bit.{kind}\n")
        assert (folder.path / f"bit.{kind}").read_bytes().startswith(start)
    root = ElementTree.parse(folder.path / "bit.svg").getroot()
    width = re.search(r"own size on ([\d.]+) mm x", answer.out)
    assert width is not None
    assert float(root.attrib["width"].removesuffix("mm")) == pytest.approx(
        float(width[1]), abs=0.01
    )


def test_lists_can_be_written_to_a_file(mixed: str, folder: Folder, call: Call) -> None:
    listed, told = call("bits", mixed).out, call("bits", mixed, "--show", "hollow", "--json").out
    assert call("bits", mixed, "-o", "list.txt").out == ""
    assert call("bits", mixed, "--show", "hollow", "--json", "-o", "one.json").out == ""
    assert (folder.path / "list.txt").read_text(encoding="utf-8") == listed
    assert (folder.path / "one.json").read_text(encoding="utf-8") == told


def test_files_can_be_given_either_way(mixed: str, call: Call) -> None:
    assert shown(call, "--bits", mixed) == shown(call, mixed)


def test_a_bit_that_two_files_have_is_told(mixed: str, folder: Folder, call: Call) -> None:
    folder.write("other.bits.toml", HOLLOW.format(diameter=30))
    folder.write("copy.bits.toml", MIXED)
    answer = call("bits", mixed, "other.bits.toml", "copy.bits.toml")
    assert answer.code == 0
    assert (
        answer.err
        == "note: hollow is taken from mixed.bits.toml; other.bits.toml has another one\n"
    )
    assert " ".join(answer.out.split()).startswith(
        "mixed.bits.toml, other.bits.toml, copy.bits.toml: 2 bits. The files are in order."
    )


def test_all_problems_of_all_files_are_told_at_once(folder: Folder, call: Call) -> None:
    bad = HOLLOW.format(diameter=-3).replace("shank = 8", 'shank = "8 mn"\nshunk = 8')
    folder.write("a.bits.toml", bad)
    good = HOLLOW.format(diameter=20)
    folder.write("b.bits.toml", good + good.partition("\n\n")[2])
    folder.write("c.bits.toml", BOARD)
    answer = call("bits", "a.bits.toml", "b.bits.toml", "c.bits.toml", "@small-shop")
    assert (answer.code, answer.out) == (2, "")
    told = answer.err.splitlines()
    assert all(line.startswith("profilestack: ") for line in told)
    for file, key in (
        ("a", "bit[1].diameter"),
        ("a", "bit[1].shank"),
        ("a", "bit[1].shunk"),
        ("b", "bit[2].id"),
        ("c", "format"),
    ):
        assert any(
            re.match(rf"profilestack: {file}\.bits\.toml:\d+: {re.escape(key)}: ", line)
            for line in told
        )


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--shape", "corebox"], "did you mean 'core-box'?"),
        (["--size", ".."], "'..' has no length"),
        (["--size", "2..1"], "the smaller one first"),
        (["--size", "1..2 mn"], "--size: '2 mn' is not a length"),
        (["--show", "core-box-2in", "--size", "3"], "--size cannot choose"),
        (["--show", "core-box-2in", "--shape", "cove", "--search", "x"], "--shape and --search"),
        (["--show", ""], "no bit is called ''"),
        (["no-such.bits.toml"], "there is no such file"),
        ([""], "is a folder"),
        (["."], "is a folder"),
    ],
)
def test_wrong_calls(arguments: list[str], told: str, call: Call) -> None:
    answer = call("bits", *arguments)
    assert (answer.code, answer.out) == (2, "")
    assert told in answer.err
