"""What the tests of documents share: a board, and hands that answer and look."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from profilestack.desktop import asking
from profilestack.desktop.asking import Answer
from profilestack.desktop.notices import NoticeRow
from profilestack.desktop.window import Window
from profilestack.session.new_board import new_board

BOARD = replace(new_board("mm"), title="Crown")


def retitled(window: Window, title: str) -> None:
    document = window.document
    document.edit(replace(document.stack, title=title), f"Name it {title}")


def row(window: Window, about: str) -> NoticeRow:
    found = window.notices.row(about)
    assert found is not None, f"nothing is told about {about}"
    return found


def answers(monkeypatch: pytest.MonkeyPatch, answer: Answer) -> list[str]:
    asked: list[str] = []

    def answered(parent: object, name: str) -> Answer:
        asked.append(name)
        return answer

    monkeypatch.setattr(asking, "what_becomes_of", answered)
    return asked


def saves_as(monkeypatch: pytest.MonkeyPatch, path: Path | None) -> list[str]:
    suggestions: list[str] = []

    def chosen(parent: object, folder: str, name: str) -> Path | None:
        suggestions.append(name)
        return path

    monkeypatch.setattr(asking, "file_to_save", chosen)
    return suggestions
