from __future__ import annotations

import json
from pathlib import Path

import pytest

from profilestack.errors import FileError, InputError
from profilestack.reports.json_report import cut_json
from profilestack.reports.text_report import cut_text
from profilestack.reports.written import size_said, write_report
from tests.shop import core_box, judge


def test_a_size_is_said_in_both_units() -> None:
    assert size_said(210.0, 297.0) == "210 mm x 297 mm, 8.268 in x 11.693 in"
    assert size_said(215.9, 279.4) == "215.9 mm x 279.4 mm, 8-1/2 in x 11 in"


def test_the_ending_says_what_a_report_is_written_as(tmp_path: Path) -> None:
    report = judge((core_box(20.0), 30.0, 5.0))
    written = write_report(report, tmp_path / "cut.TXT", "in")
    assert (written.kind, written.path) == ("text", tmp_path / "cut.TXT")
    text = written.path.read_text(encoding="utf-8")
    assert text == cut_text(report, "in") + "\n"
    assert written.lines == len(text.splitlines())
    written = write_report(report, tmp_path / "cut.json", "in")
    assert json.loads(written.path.read_text()) == json.loads(cut_json(report))
    assert (written.kind, written.lines) == ("JSON", 1)


def test_other_endings_and_places_that_are_not_there_are_refused(tmp_path: Path) -> None:
    report = judge((core_box(20.0), 30.0, 5.0))
    with pytest.raises(InputError, match=r"\.txt or \.json.*did you mean '\.json'"):
        write_report(report, tmp_path / "cut.jsn", "mm")
    with pytest.raises(FileError):
        write_report(report, tmp_path / "none" / "cut.txt", "mm")
    assert list(tmp_path.iterdir()) == []
