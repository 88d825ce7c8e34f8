"""Documents: new, open, save, close."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from profilestack.desktop import asking, file_actions
from profilestack.desktop.asking import Answer
from profilestack.desktop.desk import Desk
from profilestack.desktop.main import begin
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.window import Window
from profilestack.files import saving
from profilestack.files.stack_file import read_stack, write_stack
from profilestack.session.new_board import new_board
from profilestack.session.places import Places
from profilestack.session.settings import read_settings
from tests.gui.documents import BOARD, answers, retitled, row, saves_as


def test_the_first_start_opens_the_example_later_ones_the_last_file(
    desk: Desk, qapp: QApplication, places: Places, file: Path
) -> None:
    begin(desk)
    (first,) = desk.windows
    assert len(first.document.stack.passes) == 11
    assert first.document.session.path is None
    assert read_settings(places.settings)[0].started
    desk.open(file, first)
    assert [window.document.session.path for window in desk.windows] == [file]
    later = Desk(qapp, "light", places)
    begin(later)
    assert later.windows[0].document.session.path == file
    later.windows[0].close()
    later.deleteLater()


def test_files_are_opened_by_argument(desk: Desk, tmp_path: Path, file: Path) -> None:
    other = tmp_path / "other.stack.toml"
    write_stack(BOARD, other)
    begin(desk, [file, other])
    assert [window.document.session.path for window in desk.windows] == [file, other]


def test_a_drawing_by_argument_becomes_the_wanted_profile_of_a_new_board(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken: list[Path] = []
    monkeypatch.setattr(TargetPanel, "import_file", lambda self, path: taken.append(path))
    begin(desk, [tmp_path / "crown.dxf"])
    assert taken == [tmp_path / "crown.dxf"]
    (window,) = desk.windows
    assert window.document.stack == new_board("mm")


def test_the_example_uncut_has_a_wanted_profile_and_no_pass(desk: Desk) -> None:
    first = desk.open_example()
    first.actions_by_name["uncut-example"].trigger()
    uncut = desk.windows[-1].document
    assert uncut.session.path is None
    assert uncut.stack.passes == ()
    assert uncut.stack.target is not None
    assert uncut.report is not None


def test_the_example_is_never_written_over(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    window = desk.open_example()
    suggestions = saves_as(monkeypatch, None)
    retitled(window, "Mine")
    assert not window.save()
    assert suggestions == ["mine.stack.toml"]


def test_a_file_is_opened_in_the_place_of_an_untouched_board(
    window: Window, desk: Desk, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(asking, "files_to_open", lambda parent, folder: (file,))
    window.actions_by_name["open"].trigger()
    (only,) = desk.windows
    assert only.document.session.path == file
    retitled(only, "touched")
    desk.new(only)
    assert len(desk.windows) == 2


def test_the_same_file_is_not_opened_twice(desk: Desk, file: Path, tmp_path: Path) -> None:
    first = desk.open(file)
    link = tmp_path / "link.stack.toml"
    link.symlink_to(file)
    assert desk.open(link, first) is first
    assert len(desk.windows) == 1
    assert "open already" in first.statusBar().currentMessage()


def test_save_writes_what_the_command_line_reads(desk: Desk, file: Path) -> None:
    window = desk.open(file)
    retitled(window, "Changed")
    window.actions_by_name["save"].trigger()
    assert read_stack(file).title == "Changed"
    assert read_stack(f"{file}.bak").title == "Crown"
    assert not window.isWindowModified()
    assert not window.actions_by_name["save"].isEnabled()
    assert window.statusBar().currentMessage() == f"Saved: {file}"


def test_save_as_gives_the_ending_and_remembers(
    window: Window, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    retitled(window, "Crown / upper: part")
    suggestions = saves_as(monkeypatch, tmp_path / "new")
    window.actions_by_name["save_as"].trigger()
    assert suggestions == ["crown-upper-part.stack.toml"]
    path = tmp_path / "new.stack.toml"
    assert window.document.session.path == path
    assert window.windowTitle() == "new.stack.toml[*]"
    assert desk.settings.recent == (str(path),)
    assert desk.folder("stack") == str(tmp_path)


def test_an_ending_that_was_added_replaces_nothing_unasked(
    window: Window, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    retitled(window, "Other")
    saves_as(monkeypatch, file.parent / "crown")
    assert not window.save_as()
    assert read_stack(file).title == "Crown"
    row(window, "saving").buttons["Replace it"].click()
    assert read_stack(file).title == "Other"
    assert window.notices.is_empty


def test_a_file_that_is_open_elsewhere_is_not_written_over(
    window: Window, desk: Desk, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    retitled(window, "Other")
    desk.open(file, window)
    saves_as(monkeypatch, file)
    assert not window.save_as()
    assert "open in another window" in row(window, "saving").notice.text
    assert read_stack(file).title == "Crown"


@pytest.mark.parametrize("title", ["", "../../x", "CON", "a" * 300, "///", "ä ö", ".hidden"])
def test_suggested_names_are_names(title: str) -> None:
    name = file_actions.suggested(title)
    assert name.endswith(".stack.toml")
    assert len(name) < 80
    assert "/" not in name
    assert not name.startswith(".")
    assert name.removesuffix(".stack.toml")
    assert name.partition(".")[0].upper() not in ("CON", "NUL", "AUX", "PRN")


def test_a_failed_save_says_why_and_loses_nothing(
    desk: Desk, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = desk.open(file)
    retitled(window, "Changed")

    def full(self: object, descriptor: int, data: bytes) -> int:
        raise OSError(errno.ENOSPC, "full")

    with monkeypatch.context() as broken:
        broken.setattr(saving.Disk, "write", full)
        window.actions_by_name["save"].trigger()
    told = row(window, "saving")
    assert told.notice.grave
    assert "the disk is full" in told.notice.text
    assert read_stack(file).title == "Crown"
    assert window.isWindowModified()
    told.buttons["Try again"].click()
    assert read_stack(file).title == "Changed"
    assert window.notices.is_empty


def test_closing_asks_only_where_something_is_not_saved(
    desk: Desk, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = answers(monkeypatch, Answer.CANCEL)
    desk.open(file).close()
    assert desk.windows == []
    assert asked == []


@pytest.mark.parametrize(
    ("answer", "closed", "title"),
    [
        (Answer.SAVE, True, "Changed"),
        (Answer.DISCARD, True, "Crown"),
        (Answer.CANCEL, False, "Crown"),
    ],
)
def test_closing_with_changes_does_what_is_answered(
    desk: Desk,
    file: Path,
    monkeypatch: pytest.MonkeyPatch,
    answer: Answer,
    closed: bool,
    title: str,
) -> None:
    window = desk.open(file)
    retitled(window, "Changed")
    window.keep()
    asked = answers(monkeypatch, answer)
    window.actions_by_name["close"].trigger()
    assert asked == ["crown.stack.toml"]
    assert (desk.windows == []) is closed
    assert read_stack(file).title == title
    assert window.keeping.journal.place.exists() is not closed


def test_a_window_stays_when_saving_fails_while_it_closes(
    window: Window, desk: Desk, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    retitled(window, "Changed")
    answers(monkeypatch, Answer.SAVE)
    saves_as(monkeypatch, tmp_path / "no folder" / "x.stack.toml")
    window.close()
    assert desk.windows == [window]
    assert "Not saved" in row(window, "saving").notice.text


def test_quitting_stops_at_the_first_window_that_stays(
    window: Window, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    retitled(window, "Changed")
    desk.new(window)
    answers(monkeypatch, Answer.CANCEL)
    window.actions_by_name["quit"].trigger()
    assert len(desk.windows) == 2
    answers(monkeypatch, Answer.DISCARD)
    window.actions_by_name["quit"].trigger()
    assert desk.windows == []
