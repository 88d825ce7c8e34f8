"""What ``cut --spread`` says of the crown: figures, passes, errors, and where they come from."""

from __future__ import annotations

import pytest

from tests.unit.cli.calling import BOARD, Call, Folder
from tests.unit.planning.shipped import CROWN


@pytest.fixture
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("profilestack.jobs.spread.CUTS", 60)


@pytest.mark.usefixtures("few")
def test_text_and_json_say_the_same(call: Call) -> None:
    out = call("cut", str(CROWN), "--spread").out
    answer = call("cut", str(CROWN), "--spread", "--json").json["spread"]
    words = " ".join(out.split())
    assert f"{answer['overcut']['most']:.3f} mm worst then at x" in words
    assert f"hold in {100 * answer['within']:.0f} of 100 cuts" in words
    worst = answer["passes"][0]
    assert f"gouges deepest: pass {worst['pass']} in {100 * worst['overcut']:.0f}" in words
    first = answer["sources"][0]
    assert first["overcut"] == max(source["overcut"] for source in answer["sources"])
    assert f"({100 * first['overcut']:.0f} %)" in words
    assert "assumptions from common practice" in words
    assert all(len(line) <= 80 for line in out.splitlines())
    band = answer["band"]
    assert len(band["places"]) == len(band["low"]) == len(band["high"]) > 200
    assert all(low <= high for low, high in zip(band["low"], band["high"], strict=True))


@pytest.mark.usefixtures("few")
def test_inches_and_the_same_answer_again(call: Call) -> None:
    out = call("cut", str(CROWN), "--spread", "--units", "in").out
    assert out == call("cut", str(CROWN), "--spread", "--units", "in").out
    assert "edge zero 0.0020 in" in " ".join(out.split())


@pytest.mark.usefixtures("few")
def test_a_router_tables_errors_are_larger(call: Call, folder: Folder) -> None:
    text = 'format = "profilestack-shop/1"\nunits = "mm"\n[machine]\nkind = "router-table"\n'
    folder.write("table.shop.toml", text)
    usual = call("cut", str(CROWN), "--spread", "--json").json["spread"]
    table = call("cut", str(CROWN), "--spread", "--shop", "table.shop.toml", "--json").json[
        "spread"
    ]
    assert table["errors"]["edge_zero"] == 0.2 > usual["errors"]["edge_zero"]
    assert table["overcut"]["median"] > usual["overcut"]["median"]


def test_without_a_wanted_profile_it_says_that_nothing_is_tried(call: Call, folder: Folder) -> None:
    start, end = BOARD.index("[target]"), BOARD.index("[[setup]]")
    folder.write("none.stack.toml", BOARD[:start] + BOARD[end:])
    answer = call("cut", "none.stack.toml", "--spread")
    assert answer.code == 0
    assert "note: --spread: without a wanted profile" in answer.err
    assert "--spread" not in call("cut", "none.stack.toml").err
