"""``methods`` through the door: table, JSON as in the contract, chart, refusals."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.cli.calling import BOARD, Call, Folder
from tests.unit.planning.shipped import CROWN, EXAMPLES, LARGE_OGEE, OGEE

SAMPLED = EXAMPLES / "casing" / "as-sampled.stack.toml"


def test_json_has_the_contracts_keys_and_the_plans_minutes(call: Call) -> None:
    answer = call("methods", str(CROWN), "--json").json
    plan = call("plan", str(CROWN), "--json").json
    assert answer["format"] == "profilestack-methods/1"
    ways = {way["name"]: way for way in answer["methods"]}
    assert list(ways) == ["stacked", "ball-nose", "made-to-order"]
    for way in ways.values():
        assert {"minutes", "ridge_max", "price"} <= set(way)
        assert way["minutes"] == pytest.approx(sum(way["minutes_by"].values()))
    assert ways["stacked"]["minutes"] == pytest.approx(plan["minutes"], abs=1e-9)
    ball = ways["ball-nose"]
    assert {"ball_radius", "cusp", "developed_length", "rows"} <= set(ball)
    assert ball["ball_radius"] == 3.175
    ratio = ball["machine_minutes"] / ways["stacked"]["machine_minutes"]
    assert answer["ball_nose_to_stacked"] == pytest.approx(ratio)
    one = ball["one_piece"]["machine_minutes"] / ways["stacked"]["one_piece"]["machine_minutes"]
    assert answer["ratios"]["one"] == pytest.approx(one)
    cost = ways["made-to-order"]
    assert cost["cost"] == pytest.approx(cost["minutes"] * answer["rate"] / 60 + cost["price"])


def test_text_says_the_same(call: Call) -> None:
    out = call("methods", str(CROWN)).out
    answer = call("methods", str(CROWN), "--json").json
    words = " ".join(out.split())
    for way in answer["methods"]:
        assert f"{way['minutes']:.1f} {way['ridge_max']:.2f} {way['cost']:.0f}" in words
    assert f"3D takes {answer['ball_nose_to_stacked']:.1f} times" in words
    assert "Common practice says 10 to 20 times" in words
    assert "What changes it most" in words
    assert "sharp inside corners are left aside" in words
    assert "assumptions" in words
    assert all(len(line) <= 80 for line in out.splitlines())


def test_inches(call: Call) -> None:
    out = call("methods", str(OGEE), "--units", "in").out
    assert "radius 0.125 in" in " ".join(out.split())
    assert " mm" not in out
    assert all(len(line) <= 80 for line in out.splitlines())


def test_what_cannot_be_is_said(call: Call) -> None:
    answer = call("methods", str(LARGE_OGEE), "--json").json
    ball = next(way for way in answer["methods"] if way["name"] == "ball-nose")
    assert (ball["possible"], ball["minutes"]) == (False, None)
    assert "reaches deep enough" in ball["why_not"]
    assert answer["ball_nose_to_stacked"] is None
    assert "cannot be" in call("methods", str(LARGE_OGEE)).out


def test_the_hybrid_stands_where_no_bit_reaches(call: Call) -> None:
    answer = call("methods", str(SAMPLED), "--json")
    assert answer.code == 1  # the stacked way breaks its tolerance
    hybrid = next(way for way in answer.json["methods"] if way["name"] == "hybrid")
    stacked = answer.json["methods"][0]
    assert hybrid["minutes"] < stacked["minutes"]  # less to sand
    assert hybrid["ridge_max"] < stacked["ridge_max"]


def test_a_shop_file_is_taken(call: Call, folder: Folder) -> None:
    text = 'format = "profilestack-shop/1"\nunits = "mm"\n'
    text += '[machine]\nkind = "cnc"\n[minutes]\nchange = 30\n'
    folder.write("slow.shop.toml", text)
    usual = call("methods", str(OGEE), "--json").json
    answer = call("methods", str(OGEE), "--shop", "slow.shop.toml", "--json")
    assert answer.code == 0, answer.err
    changes = [each["methods"][0]["minutes_by"]["changes"] for each in (usual, answer.json)]
    assert changes[1] > changes[0]


@pytest.mark.parametrize("suffix", ["png", "svg", "pdf"])
def test_the_chart_is_drawn(call: Call, folder: Folder, suffix: str) -> None:
    answer = call("methods", str(OGEE), "--plot", f"chart.{suffix}")
    assert answer.code == 0
    data = (folder.path / f"chart.{suffix}").read_bytes()
    assert data[:4] in (b"\x89PNG", b"<?xm", b"%PDF")
    again = call("methods", str(OGEE), "--plot", f"again.{suffix}")
    assert again.code == 0
    assert (folder.path / f"again.{suffix}").read_bytes() == data


def test_refusals(call: Call, folder: Folder) -> None:
    folder.write("bare.stack.toml", BOARD.replace("[target]", "[other]"))
    assert call("methods", "bare.stack.toml").code == 2
    start = BOARD.index("[target]")
    end = BOARD.index("[[setup]]")
    folder.write("none.stack.toml", BOARD[:start] + BOARD[end:])
    answer = call("methods", "none.stack.toml")
    assert answer.code == 2
    assert "no wanted profile" in answer.err
    assert call("methods", str(OGEE), "--cusp", "0").code == 2
    assert call("methods", str(OGEE), "--plot", "chart.doc").code == 2
    assert not Path(folder.path / "chart.doc").exists()


def test_the_length_of_a_bend_or_a_ring_is_not_taken_for_a_parts(call: Call) -> None:
    for name, said in (
        ("half-column/rings", "2 pieces of 238.76 mm once round: 0.5 m"),  # 76 mm across, pi times
        ("cornice/bow", "1 piece of 972.85 mm along the bend: 1.0 m"),  # 929 mm through 60 degrees
        ("ogee/small", "4 pieces of 2000 mm: 8.0 m"),
    ):
        assert said in call("methods", str(EXAMPLES / f"{name}.stack.toml")).out
