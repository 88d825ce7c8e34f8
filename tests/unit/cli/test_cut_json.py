"""``cut --json``: exactly these keys, in these types; they are never renamed."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from profilestack.cutting.cut import CHORD
from tests.unit.cli.calling import BOARD, Call, Folder

NUMBER, WHOLE, TEXT = "number", "whole number", "text"
SIDE = {"max": NUMBER, "rms": NUMBER, "area": NUMBER, "volume": NUMBER}
POINT = (NUMBER, NUMBER)

SCHEMA = {
    "format": TEXT,
    "blank": {"area": NUMBER},
    "passes": [
        {
            "number": WHOLE,
            "bit": TEXT,
            "setup": TEXT,
            "offset": NUMBER,
            "depth": NUMBER,
            "removed_area": NUMBER,
            "removed_volume": NUMBER,
        }
    ],
    "section": {"area": NUMBER, "volume": NUMBER, "rings": [[POINT]]},
    "comparison": {
        "leftover": SIDE,
        "overcut": SIDE | {"missing_max": NUMBER},
        "unreached_max": NUMBER,
        "ridges": [{"at": POINT, "height": NUMBER, "width": NUMBER, "between": (WHOLE, WHOLE)}],
    },
    "cautions": [{"code": TEXT, "severity": TEXT, "pass": WHOLE, "text": TEXT}],
}
"""A dict has just these keys; a list any number of such things; a tuple just so many."""


def misfits(value: Any, wanted: Any, where: str = "") -> list[str]:
    """Where a value does not have the form that is wanted."""
    if isinstance(wanted, dict):
        if not isinstance(value, dict):
            return [where]
        odd = [f"{where}.{key}" for key in value.keys() ^ wanted.keys()]
        both = value.keys() & wanted.keys()
        return odd + [
            at for key in both for at in misfits(value[key], wanted[key], f"{where}.{key}")
        ]
    if isinstance(wanted, list | tuple):
        if not isinstance(value, list):
            return [where]
        each = wanted * len(value) if isinstance(wanted, list) else wanted
        if len(each) != len(value):
            return [where]
        pairs = enumerate(zip(value, each, strict=True))
        return [at for k, (one, form) in pairs for at in misfits(one, form, f"{where}[{k}]")]
    fits = {
        NUMBER: isinstance(value, int | float) and not isinstance(value, bool),
        WHOLE: isinstance(value, int) and not isinstance(value, bool),
        TEXT: isinstance(value, str),
    }[wanted]
    return [] if fits else [where]


def test_the_form_is_told_apart_from_others() -> None:
    good = {"code": "a", "severity": "b", "pass": 1, "text": "c"}
    form = SCHEMA["cautions"]
    assert misfits([good, good], form) == []
    assert misfits([good | {"pass": 1.5}], form) == ["[0].pass"]
    assert misfits([good | {"more": 1}], form) == ["[0].more"]
    assert misfits([{"code": "a", "severity": "b", "pass": 1}], form) == ["[0].text"]
    assert misfits([1.0, True], POINT) == ["[1]"]
    assert misfits([1.0, 2.0, 3.0], POINT) == [""]


def test_the_answer_has_just_the_keys_of_the_format(crown: str, call: Call) -> None:
    answer = call("cut", crown, "--json").json
    assert misfits(answer, SCHEMA) == []
    assert answer["format"] == "profilestack-cut/1"
    # none of the lists was empty, so that each form was met
    assert answer["passes"]
    assert answer["section"]["rings"][0]
    assert answer["comparison"]["ridges"]
    assert answer["cautions"]


def test_a_caution_of_the_whole_part_has_no_pass(casing: str, call: Call) -> None:
    cautions = call("cut", casing, "--json").json["cautions"]
    assert {each["pass"] for each in cautions if each["code"] == "leftover"} == {None}
    for each in cautions:
        each["pass"] = each["pass"] or 0
    assert misfits(cautions, SCHEMA["cautions"]) == []


def test_without_a_target_the_comparison_is_null(folder: Folder, call: Call) -> None:
    before, _, rest = BOARD.partition("[target]")
    free = folder.write("free.stack.toml", before + "[[setup]]" + rest.partition("[[setup]]")[2])
    answer = call("cut", free, "--json")
    assert answer.code == 0
    assert answer.json["comparison"] is None
    assert misfits(answer.json | {"comparison": None}, SCHEMA) == [".comparison"]


def test_the_figures_are_those_of_the_board(board: str, call: Call) -> None:
    answer = call("cut", board, "--json").json
    half = math.pi * 10.0**2 / 2.0
    # a chord polygon loses at most 2/3 of the chord error along the arc
    slack = 2.0 / 3.0 * CHORD * math.pi * 10.0
    assert answer["blank"]["area"] == pytest.approx(1800.0)
    assert [each["number"] for each in answer["passes"]] == [1]
    assert answer["passes"][0]["removed_area"] == pytest.approx(half, abs=slack)
    assert answer["passes"][0]["removed_volume"] == pytest.approx(half * 1000.0, abs=slack * 1000.0)
    whole = answer["section"]["area"] + answer["passes"][0]["removed_area"]
    assert whole == pytest.approx(1800.0, rel=1e-9)
    assert answer["section"]["volume"] == pytest.approx(answer["section"]["area"] * 1000.0)
    assert answer["comparison"]["leftover"]["max"] <= 2.0 * CHORD
    assert answer["comparison"]["overcut"]["max"] <= 2.0 * CHORD


def test_rings_go_round_the_right_way_and_close_by_themselves(crown: str, call: Call) -> None:
    answer = call("cut", crown, "--json").json
    areas = []
    for ring in answer["section"]["rings"]:
        assert ring[0] != ring[-1]
        following = [*ring[1:], ring[0]]
        areas.append(
            sum(x0 * z1 - x1 * z0 for (x0, z0), (x1, z1) in zip(ring, following, strict=True)) / 2.0
        )
    assert areas[0] > 0.0
    assert sum(areas) == pytest.approx(answer["section"]["area"])


def test_units_do_not_change_json(crown: str, call: Call) -> None:
    assert call("cut", crown, "--json").out == call("cut", crown, "--json", "--units", "in").out


def test_json_is_one_line_of_ascii(folder: Folder, call: Call) -> None:
    named = folder.write("named.stack.toml", BOARD.replace('"hollow"', '"höhl 鉋"'))
    out = call("cut", named, "--json").out
    assert out.isascii()
    assert out.count("\n") == 1
    assert json.loads(out)["passes"][0]["bit"] == "höhl 鉋"


def test_json_can_be_written_to_a_file(board: str, folder: Folder, call: Call) -> None:
    printed = call("cut", board, "--json").out
    answer = call("cut", board, "--json", "-o", "answer.json")
    assert (answer.code, answer.out) == (0, "")
    assert (folder.path / "answer.json").read_text(encoding="utf-8") == printed


def test_the_spread_is_an_addition(board: str, call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("profilestack.jobs.spread.CUTS", 5)
    answer = call("cut", board, "--json", "--spread").json
    spread = answer.pop("spread")
    assert misfits(answer | {"cautions": []}, SCHEMA) == []
    assert spread["cuts"] == 5
    for side in ("leftover", "overcut"):
        assert 0.0 <= spread[side]["median"] <= spread[side]["most"]
