"""Where a pass finds its bit: the document, the given files in order, the drawer, as shipped."""

from __future__ import annotations

import pytest

from tests.unit.cli.calling import BOARD, HOLLOW, Call, Folder, without_bits


def cut_with(call: Call, *arguments: str) -> tuple[float, str]:
    """Area that the first pass removes [mm2], and what was said beside it.

    The wider the bit, the more it removes, so that the area tells which bit was taken.
    """
    answer = call("cut", *arguments, "--json")
    assert answer.code in (0, 1)
    return answer.json["passes"][0]["removed_area"], answer.err


@pytest.fixture
def areas(folder: Folder, call: Call) -> dict[str, float]:
    """What a bit of each place removes, each given alone."""
    found = {}
    for place, diameter in {"first": 22, "second": 24, "drawer": 26}.items():
        name = folder.write(f"{place}.bits.toml", HOLLOW.format(diameter=diameter))
        bare = folder.write("bare.stack.toml", without_bits())
        found[place], _ = cut_with(call, bare, "--bits", name)
    (folder.path / "drawer.bits.toml").unlink()
    found["document"], _ = cut_with(call, folder.write("full.stack.toml", BOARD))
    return found


def test_the_document_comes_first(areas: dict[str, float], call: Call) -> None:
    area, said = cut_with(call, "full.stack.toml", "--bits", "first.bits.toml")
    assert area == areas["document"] != areas["first"]
    assert said == "note: hollow is taken from the document; first.bits.toml has another one\n"


def test_then_the_files_in_their_order(areas: dict[str, float], call: Call) -> None:
    files = ["--bits", "first.bits.toml", "--bits", "second.bits.toml"]
    area, said = cut_with(call, "bare.stack.toml", *files)
    assert area == areas["first"]
    assert said == "note: hollow is taken from first.bits.toml; second.bits.toml has another one\n"
    turned, _ = cut_with(call, "bare.stack.toml", *files[2:], *files[:2])
    assert turned == areas["second"] != areas["first"]


def test_then_the_drawer(areas: dict[str, float], folder: Folder, call: Call) -> None:
    folder.write("drawer.bits.toml", HOLLOW.format(diameter=26))
    assert cut_with(call, "bare.stack.toml") == (areas["drawer"], "")
    area, said = cut_with(call, "bare.stack.toml", "--bits", "first.bits.toml")
    assert area == areas["first"]
    assert said == "note: hollow is taken from first.bits.toml; the drawer has another one\n"


def test_then_the_shipped_library(folder: Folder, call: Call) -> None:
    # this id is not in the small shop's drawer
    metric = without_bits().replace('"hollow"', '"core-box-20mm"')
    answer = call("cut", folder.write("metric.stack.toml", metric), "--json")
    assert answer.code == 0
    assert answer.err == ""
    assert "core-box-20mm" not in call("bits").out


def test_the_same_bit_in_two_places_needs_no_note(
    areas: dict[str, float], folder: Folder, call: Call
) -> None:
    folder.write("again.bits.toml", HOLLOW.format(diameter=22))
    files = ["--bits", "first.bits.toml", "--bits", "again.bits.toml"]
    assert cut_with(call, "bare.stack.toml", *files) == (areas["first"], "")


def test_shipped_libraries_can_be_named(folder: Folder, call: Call) -> None:
    inch = without_bits().replace('"hollow"', '"core-box-3-4in"')
    named = folder.write("inch.stack.toml", inch)
    folder.write("drawer.bits.toml", HOLLOW.format(diameter=26))
    for name in ("@small-shop", "@all"):
        assert call("cut", named, "--bits", name).code in (0, 1)
    answer = call("cut", named, "--bits", "@al")
    assert answer.code == 2
    assert "did you mean '@all'?" in answer.err


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "format: is missing"),
        ("format = 3", "format"),
        ("[[bit]\n", "is no TOML"),
        (BOARD, "this is a stack, not a bits library"),
        ('format = "profilestack-bits/9"\n', "was written by a newer profilestack"),
    ],
)
def test_a_wrong_library_is_named(
    text: str, told: str, board: str, folder: Folder, call: Call
) -> None:
    answer = call("cut", board, "--bits", folder.write("wrong.bits.toml", text))
    assert (answer.code, answer.out) == (2, "")
    assert "profilestack: wrong.bits.toml:" in answer.err
    assert told in answer.err


@pytest.mark.parametrize(
    ("name", "told"),
    [("no-such.bits.toml", "there is no such file"), (".", "is a folder, not a file")],
)
def test_a_library_that_is_not_there(name: str, told: str, board: str, call: Call) -> None:
    answer = call("cut", board, "--bits", name)
    assert (answer.code, answer.out) == (2, "")
    assert told in answer.err
