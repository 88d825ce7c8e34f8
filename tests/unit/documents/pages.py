"""The project's pages, as their tests read them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
PAGES = (
    *sorted(ROOT.glob("*.md")),
    *sorted((ROOT / "docs").rglob("*.md")),
    *sorted((ROOT / "examples").rglob("*.md")),
)


@dataclass(frozen=True)
class Block:
    """A fenced block: its language, its text, its line."""

    language: str
    text: str
    line: int


def blocks_of(text: str) -> Iterator[Block]:
    """The fenced blocks of a page."""
    for match in re.finditer(r"^```([\w-]*)\n(.*?)^```$", text, re.MULTILINE | re.DOTALL):
        yield Block(match[1], match[2], text.count("\n", 0, match.start()) + 1)


def without_blocks(text: str) -> str:
    """The page's own words: without fenced blocks and code in a line."""
    text = re.sub(r"^```.*?^```$", "", text, flags=re.MULTILINE | re.DOTALL)
    return re.sub(r"`[^`\n]*`", "", text)


def links_of(text: str) -> list[str]:
    """Where a page's links and pictures lead to."""
    return re.findall(r"\]\(([^)\s]+)\)", without_blocks(text))


def anchors_of(text: str) -> set[str]:
    """The names that a page's headings can be linked by."""
    headings = re.findall(r"^#+ +(.*)$", re.sub(r"^```.*?^```$", "", text, flags=re.M | re.S), re.M)
    kept = (re.sub(r"[^\w\- ]", "", heading.lower()) for heading in headings)
    return {heading.strip().replace(" ", "-") for heading in kept}
