"""``profilestack sheet``: writes the run sheet, refuses other names."""

from __future__ import annotations

from pathlib import Path

from tests.unit.cli.calling import Call, Folder

CROWN = str(Path(__file__).parents[3] / "examples" / "cornice" / "crown.stack.toml")


def test_the_sheet_is_written(call: Call, folder: Folder) -> None:
    answer = call("sheet", CROWN, "-o", "crown.pdf")
    assert answer.code == 0
    assert "crown.pdf: 3 pages A4" in answer.out
    assert (folder.path / "crown.pdf").read_bytes().startswith(b"%PDF")
    told = call("sheet", CROWN, "-o", "letter.pdf", "--paper", "Letter", "--json").json
    assert told["format"] == "profilestack-sheet/1"
    assert (told["paper"], told["pages"] >= 3) == ("Letter", True)


def test_it_is_written_also_where_a_caution_says_stop(call: Call, folder: Folder) -> None:
    shop = folder.write(
        "low.shop.toml",
        'format = "profilestack-shop/1"\nunits = "mm"\n[machine]\nkind = "cnc"\nclearance = 40\n',
    )
    assert call("sheet", CROWN, "--shop", shop, "-o", "a.pdf").code == 1
    assert "a.pdf" in folder.names()


def test_other_names_and_papers_are_refused(call: Call, folder: Folder) -> None:
    for words in (("-o", "a.png"), ("-o", "a.pdf", "--paper", "B5")):
        answer = call("sheet", CROWN, *words)
        assert answer.code == 2
        assert "expected" in answer.err
    assert folder.names() & {"a.png", "a.pdf"} == set()
