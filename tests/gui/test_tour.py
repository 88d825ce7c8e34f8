"""The tour: its pictures are there, its keys are those of the app, its file is found as it says."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path
from types import ModuleType

import pytest
from PIL import Image

from profilestack.desktop.actions import ROWS
from profilestack.desktop.document import Document
from profilestack.desktop.file_actions import UNCUT_EXAMPLE
from profilestack.desktop.find.looking import FIND
from profilestack.desktop.panels import PLACES
from profilestack.desktop.section.keys import KEYS
from profilestack.desktop.stack_panel.commands import PassCommands
from profilestack.desktop.stack_panel.keys import command_rows
from profilestack.files.stack_file import read_stack
from profilestack.jobs.find import FindWishes, find, request_for
from profilestack.session.new_board import new_board
from profilestack.session.session import Session
from tests.unit.documents.pages import PAGES, ROOT, blocks_of, links_of

IMAGES = ROOT / "docs" / "images"
TOUR = (ROOT / "docs" / "tour.md").read_text(encoding="utf-8")
LARGEST = 250_000
"""No picture is larger [bytes]."""


@pytest.fixture(scope="module")
def draw() -> ModuleType:
    """The script that takes the pictures."""
    spec = importlib.util.spec_from_file_location("draw_images", IMAGES / "draw.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_pictures_are_those_of_the_script(draw: ModuleType) -> None:
    assert {path.stem for path in IMAGES.glob("*.png")} == set(draw.PICTURES)
    assert set(draw.SCALES) <= set(draw.PICTURES)


def test_every_picture_is_shown_on_a_page() -> None:
    shown = {
        (page.parent / link).resolve()
        for page in PAGES
        for link in links_of(page.read_text(encoding="utf-8"))
    }
    assert set(IMAGES.glob("*.png")) <= shown


@pytest.mark.parametrize("path", sorted(IMAGES.glob("*.png")), ids=lambda path: path.name)
def test_pictures_are_small_files_in_their_size(path: Path, draw: ModuleType) -> None:
    assert path.stat().st_size < LARGEST
    with Image.open(path) as picture:
        size = picture.size
        colors = picture.convert("RGB").getcolors(1 << 24)
    if path.stem != "print":  # a window of its own size
        scale = int(draw.SCALES.get(path.stem, "1"))
        assert size == tuple(scale * side for side in draw.SIZE)
    assert colors is not None
    assert len(colors) > 20  # not an empty window


def test_every_picture_says_what_is_on_it() -> None:
    for words in re.findall(r"!\[([^\]]*)\]", TOUR):
        assert len(words.split()) >= 6


def named_keys() -> list[str]:
    table = TOUR.partition("| key | does |")[2].partition("\n## ")[0]
    return re.findall(r"`([^`]+)`", table)


def known_keys() -> set[str]:
    keys = {key.toString() for row in ROWS for key in row.shortcuts}
    commands = command_rows(PassCommands(Document(Session(new_board("mm")))))
    keys |= {key for _, key, _ in commands if isinstance(key, str)}
    return keys | {"N", "P", "Esc"}


def test_the_tours_keys_are_those_of_the_app(qapp: object) -> None:
    keys = named_keys()
    assert len(keys) > 25
    assert [key for key in keys if key not in known_keys()] == []
    assert "N and P" in KEYS
    assert "Arrows nudge" in KEYS
    numbers = {f"Ctrl+{number}" for number in range(1, len(PLACES) + 2)}
    assert numbers <= known_keys()
    parts = ", ".join(place.title for place in PLACES)
    assert f"`Ctrl+2` to `Ctrl+{len(PLACES) + 1}` | go to {parts} |" in TOUR


def test_the_tours_words_are_on_screen() -> None:
    texts = {row.text.replace("&", "").removesuffix("…") for row in ROWS}
    for said in ("Open", "Save", "New board", "Print the full-size section", "Dark"):
        assert said in TOUR
        assert said in texts
    for place in PLACES[:5]:
        assert f"*{place.title}*" in TOUR or f"{place.title}," in TOUR
    assert f"button *{FIND}*" in TOUR


def test_the_tours_example_has_ways_and_as_many_members_as_it_says() -> None:
    assert "Open the example uncut" in TOUR
    stack = read_stack(ROOT / "examples" / UNCUT_EXAMPLE)
    assert stack.passes == ()
    assert stack.target is not None
    assert len(stack.target.column.members) == 8  # type: ignore[union-attr]
    assert "eight members" in TOUR
    result = find(request_for(stack, FindWishes()))
    assert len(result.options) == 3
    assert "Three ways" in TOUR
    assert result.unreached == ()


def test_the_tours_command_starts_the_app() -> None:
    (block,) = blocks_of(TOUR)
    assert block.text == ".venv/bin/profilestack app\n"
