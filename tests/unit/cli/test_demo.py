"""``profilestack demo``: the main job end to end."""

from __future__ import annotations

from pathlib import Path

import pytest

from profilestack.jobs import demo
from profilestack.jobs.find import FindResult
from profilestack.progress import Progress
from tests.unit.cli.calling import Call, Folder

SEARCHED: dict[tuple[str, ...], FindResult] = {}
"""What was found, by the bits offered: the search takes seconds and is the same each time."""


@pytest.fixture(autouse=True)
def one_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the demo search once for all tests of this file that offer the same bits."""
    search = demo.find

    def remembered(request: demo.FindRequest, progress: Progress) -> FindResult:
        offered = tuple(bit.id for bit in request.bits)
        if offered not in SEARCHED:
            SEARCHED[offered] = search(request, progress)
        return SEARCHED[offered]

    monkeypatch.setattr(demo, "find", remembered)


def test_the_demo_writes_its_three_files(folder: Folder, call: Call) -> None:
    answer = call("demo")
    assert answer.code == 0
    made = folder.path / "profilestack-demo"
    assert {each.name for each in made.iterdir()} == {
        "crown.png",
        "crown-template.pdf",
        "crown.stack.toml",
    }
    assert (made / "crown.png").read_bytes().startswith(b"\x89PNG\r\n")
    assert "It fits." in answer.out
    for each in made.iterdir():
        assert str(Path("profilestack-demo") / each.name) in answer.out
    # the copy is a stack like any other
    again = call("cut", str(made / "crown.stack.toml"))
    assert again.code == 0
    assert again.out.rstrip() in answer.out


def test_the_demo_keeps_a_stack_that_was_worked_on(folder: Folder, call: Call) -> None:
    call("demo", "-o", "here")
    copy = folder.path / "here" / "crown.stack.toml"
    worked = copy.read_text(encoding="utf-8") + "# mine\n"
    copy.write_text(worked, encoding="utf-8")
    assert call("demo", "-o", "here").code == 0
    assert copy.read_text(encoding="utf-8") == worked


def test_the_demo_as_json(folder: Folder, call: Call) -> None:
    answer = call("demo", "--json", "-o", "here").json
    assert answer["format"] == "profilestack-demo/1"
    assert answer["cut"]["format"] == "profilestack-cut/1"
    assert {key: Path(path).name for key, path in answer["files"].items()} == {
        "picture": "crown.png",
        "template": "crown-template.pdf",
        "stack": "crown.stack.toml",
    }
    assert all((folder.path / path).is_file() for path in answer["files"].values())


def test_the_demo_finds_with_the_bits_given(folder: Folder, call: Call) -> None:
    answer = call("demo", "--json", "--bits", "@core-box-inch", "--bits", "@v-groove-inch")
    assert answer.code == 0
    used = {single["bit"] for single in answer.json["cut"]["passes"]}
    offered = {
        bit["id"]
        for name in ("@core-box-inch", "@v-groove-inch")
        for bit in call("bits", name, "--json").json["bits"]
    }
    assert used
    assert used <= offered
