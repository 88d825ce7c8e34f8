"""Every link of every page leads somewhere."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.unit.documents.pages import PAGES, ROOT, anchors_of, links_of


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def broken(page: Path, text: str) -> list[str]:
    """The links of a page's text that lead nowhere in the project."""
    found = []
    for link in links_of(text):
        if link.startswith(("https://", "http://", "mailto:")):
            continue
        file, _, anchor = link.partition("#")
        target = (page.parent / file).resolve() if file else page
        if not target.is_relative_to(ROOT) or not target.exists():
            found.append(link)
        elif anchor:
            there = text if target == page else target.read_text(encoding="utf-8")
            if anchor not in anchors_of(there):
                found.append(link)
    return found


def test_broken_links_are_found() -> None:
    text = "# A heading\n[a](README.md) [b](no-such.md) [c](#a-heading) [d](#none) `[e](f)`\n"
    assert broken(ROOT / "README.md", text) == ["no-such.md", "#none"]


@pytest.mark.parametrize("page", PAGES, ids=name_of)
def test_links_lead_somewhere(page: Path) -> None:
    assert broken(page, page.read_text(encoding="utf-8")) == []


def test_every_page_can_be_reached_from_the_readme() -> None:
    reached: set[Path] = set()
    waiting = [ROOT / "README.md"]
    while waiting:
        page = waiting.pop()
        if page in reached:
            continue
        reached.add(page)
        for link in links_of(page.read_text(encoding="utf-8")):
            target = (page.parent / link.partition("#")[0]).resolve()
            if target.is_dir():  # all the notes in it
                waiting += target.glob("*.md")
            elif target.suffix == ".md" and target.is_file():
                waiting.append(target)
    assert {name_of(page) for page in PAGES} == {name_of(page) for page in reached}


FILES_NAMED = r"`((?:profilestack|tests|docs|examples|bitlibrary|\.ci)/[\w./-]*)`"


@pytest.mark.parametrize("page", PAGES, ids=name_of)
def test_files_that_are_named_are_there(page: Path) -> None:
    named = re.findall(FILES_NAMED, page.read_text(encoding="utf-8"))
    assert [name for name in named if "NAME" not in name and not (ROOT / name).exists()] == []


def test_the_developers_page_names_many_files() -> None:
    named = re.findall(FILES_NAMED, (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))
    assert len(named) > 20
