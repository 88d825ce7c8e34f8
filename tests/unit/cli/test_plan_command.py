"""``profilestack plan``: text, JSON, exit codes, refusals."""

from __future__ import annotations

from pathlib import Path

import pytest

from profilestack.planning.figures import FIGURES
from tests.unit.cli.calling import Call, Folder

EXAMPLES = Path(__file__).parents[3] / "examples"
CROWN = str(EXAMPLES / "cornice" / "crown.stack.toml")
KEYS = {
    "pass", "bit", "setup", "offset", "depth", "relief", "rpm", "feed", "removed_area", "chip",
    "power", "minutes", "why",
}  # fmt: skip
"""Of each step, as agreed."""


def test_the_plan_can_be_read_aloud(call: Call) -> None:
    answer = call("plan", CROWN)
    assert answer.code == 0
    assert max(map(len, answer.out.splitlines())) <= 80
    said = " ".join(answer.out.split())
    for words in (
        "in two depths: 4.0, 7.9", "rough out, for pass 5", "cavetto", "Setup back",
        "none takes fewer minutes", "each bit through all pieces", "Common practice, from memory",
        "a qualified operator come first",
    ):  # fmt: skip
        assert words in said, words


def test_the_json_has_the_agreed_keys_and_adds_up(call: Call) -> None:
    answer = call("plan", CROWN, "--json").json
    assert answer["format"] == "profilestack-plan/1"
    assert set(answer) >= {"format", "steps", "minutes", "cautions"}
    assert all(set(step) >= KEYS for step in answer["steps"])
    assert answer["minutes"] == pytest.approx(sum(answer["minutes_by"].values()))
    cutting = sum(step["minutes"] for step in answer["steps"])
    assert cutting == pytest.approx(answer["minutes_by"]["cutting"])
    cut = call("cut", CROWN, "--json").json
    removed = sum(step["removed_area"] for step in answer["steps"])
    assert removed == pytest.approx(cut["blank"]["area"] - cut["section"]["area"], rel=1e-9)
    figures = answer["assumptions"]["figures"]
    assert len(figures) == len(FIGURES)
    assert all(figure["source"] for figure in figures)


def test_text_and_json_say_the_same(call: Call) -> None:
    text = call("plan", CROWN).out
    for step in call("plan", CROWN, "--json").json["steps"]:
        assert f"{step['rpm']:,.0f} rpm" in text
        assert f"{step['depth']:.3f}"[:-1] in text


def test_units_are_those_asked_for(call: Call) -> None:
    said = " ".join(call("plan", CROWN, "--units", "in").out.split())
    assert "in/min" in said
    assert " mm " not in said
    assert "mm2" not in said.replace("N/mm2", "")
    assert "0.20 in2 at most in one travel" in said  # 130 mm2 / 645.16


def test_every_figure_is_listed_with_its_source(call: Call) -> None:
    said = " ".join(call("plan", CROWN, "--assumptions").out.split())
    for figure in FIGURES:
        assert f"{figure.words}: " in said


def test_a_shop_file_is_taken(call: Call, folder: Folder) -> None:
    shop = folder.write(
        "own.shop.toml",
        'format = "profilestack-shop/1"\nunits = "mm"\nname = "our shop"\n'
        '[machine]\nkind = "router-table"\n',
    )
    answer = call("plan", CROWN, "--shop", shop)
    assert answer.code == 0
    assert "Our shop: router table" in answer.out
    assert "climb" not in answer.out  # by hand never


def test_a_stop_ends_with_1(call: Call, folder: Folder) -> None:
    shop = folder.write(
        "low.shop.toml",
        'format = "profilestack-shop/1"\nunits = "mm"\n[machine]\nkind = "cnc"\nclearance = 40\n',
    )
    answer = call("plan", CROWN, "--shop", shop)
    assert answer.code == 1
    assert "STOP" in answer.out


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("slowest = 20000", "expected a bit up to"),
        ("slowest = 9000\nfastest = 8000", "no speed is left"),
        ("largest_feed = 0", "machine.largest_feed: 0 is impossible"),
        ("power = 2", "a spindle of"),
    ],
)
def test_impossible_machines_are_refused(call: Call, folder: Folder, lines: str, said: str) -> None:
    head = 'format = "profilestack-shop/1"\nunits = "mm"\n[machine]\nkind = "cnc"\n'
    answer = call("plan", CROWN, "--shop", folder.write("own.shop.toml", head + lines))
    assert (answer.code, answer.out) == (2, "")
    assert said in answer.err


def test_an_unknown_wood_is_refused_with_the_nearest(call: Call, folder: Folder) -> None:
    text = Path(CROWN).read_text(encoding="utf-8").replace("yellow-poplar", "yelow poplar")
    answer = call("plan", folder.write("a.stack.toml", text))
    assert answer.code == 2
    assert "did you mean 'yellow-poplar'?" in answer.err


def test_the_answer_goes_to_a_file(call: Call, folder: Folder) -> None:
    assert call("plan", CROWN, "--json", "-o", "plan.json").code == 0
    assert "plan.json" in folder.names()


def test_other_numbers_than_the_documents_are_told(call: Call) -> None:
    said = " ".join(call("plan", CROWN).out.split())
    # of one bit together: the document cuts the corners, its passes 6 and 7, before the slopes
    assert "bottom; pass 8 of the document;" in said
    assert "corner below the ovolo; pass 6 of the document;" in said
    assert "cavetto; in three depths" in said  # 5 is 5 in both


def test_a_turned_part_is_fed_from_no_end(call: Call) -> None:
    rings = str(EXAMPLES / "half-column" / "rings.stack.toml")
    said = call("plan", rings).out
    assert "without a stop on the way" in " ".join(said.split())
    assert " end" not in said.replace("qualified", "").split("Assumed")[0]


def test_a_tipped_blank_says_which_way(call: Call) -> None:
    assert "tipped by 45 degrees clockwise, seen from the left end" in call("plan", CROWN).out
    flutes = str(EXAMPLES / "half-column" / "flutes.stack.toml")
    said = " ".join(call("plan", flutes).out.split())
    assert "tipped by 11.25 degrees counter-clockwise, seen from the left end" in said


def test_the_figures_of_a_nameless_shop_are_not_called_usual(call: Call, folder: Folder) -> None:
    assert "Usual small-shop figures" in call("plan", CROWN).out
    text = 'format = "profilestack-shop/1"\nunits = "mm"\n[machine]\nkind = "cnc"\npower = 3000\n'
    shop = folder.write("mine.shop.toml", text)
    said = call("plan", CROWN, "--shop", shop).out
    assert "Your shop file: CNC router" in said
    assert "Usual small-shop figures" not in said
