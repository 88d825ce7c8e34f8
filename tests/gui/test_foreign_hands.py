"""Files that are broken, recent, dropped, or changed by other programs."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QGuiApplication

from profilestack.desktop.desk import Desk
from profilestack.desktop.main import begin
from profilestack.desktop.menus import fill_recent
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.window import Window
from profilestack.files.stack_file import read_stack, write_stack
from tests.gui.documents import BOARD, retitled, row


def test_all_problems_of_a_bad_file_are_shown_and_copied(desk: Desk, file: Path) -> None:
    text = file.read_text().replace("width = 60", "width = -60")
    file.write_text(text.replace('kind = "straight"', 'kind = "bent"'))
    begin(desk, [file])
    (window,) = desk.windows
    told = row(window, f"opening {file}")
    assert told.notice.text == "crown.stack.toml was not opened: 2 things are wrong in it."
    first, second = told.notice.details
    assert first.startswith(f"{file}:6: blank.width: ")
    assert second.startswith(f"{file}:10: run.kind: ")
    told.buttons["Copy"].click()
    assert QGuiApplication.clipboard().text() == told.notice.whole
    assert window.document.stack.passes == ()
    told.buttons["Close"].click()
    assert window.notices.is_empty


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (lambda text: text[: text.index("width") + 7], "cut off"),
        (lambda text: text.replace("stack/1", "stack/2"), "written by a newer profilestack"),
        (lambda text: text.replace("-stack/", "-bits/"), "this is a bits library, not a stack"),
        (lambda text: "\0", "is no TOML"),
    ],
)
def test_the_last_good_copy_is_offered(
    window: Window, desk: Desk, file: Path, spoil: object, told: str
) -> None:
    assert callable(spoil)
    write_stack(replace(BOARD, title="Newer"), file)  # the former one is kept as .bak
    file.write_text(spoil(file.read_text()))
    desk.open(file, window)
    shown = row(window, f"opening {file}")
    assert told in "\n".join(shown.notice.details)
    shown.buttons["Open the last good copy"].click()
    opened = desk.windows[-1]
    assert opened.document.stack.title == "Crown"
    assert opened.document.session.path == file
    assert opened.isWindowModified()


def test_a_file_that_is_not_there_is_told_in_the_window(desk: Desk, tmp_path: Path) -> None:
    begin(desk, [tmp_path / "none.stack.toml"])
    (window,) = desk.windows
    told = row(window, f"opening {tmp_path / 'none.stack.toml'}")
    assert "there is no such file" in told.notice.details[0]


def test_recent_files_are_listed_and_opened(desk: Desk, file: Path, tmp_path: Path) -> None:
    other = tmp_path / "sub" / "crown.stack.toml"
    other.parent.mkdir()
    write_stack(BOARD, other)
    for path in (file, other):
        desk.open(path).close()
    window = desk.new()
    fill_recent(window, window.recent_menu)
    actions = window.recent_menu.actions()
    assert [action.toolTip() for action in actions] == [str(other), str(file)]
    assert actions[0].text() == f"&1 crown.stack.toml in {other.parent}"
    actions[1].trigger()
    assert desk.windows[-1].document.session.path == file


def test_a_recent_file_that_is_gone_leaves_the_list(desk: Desk, file: Path) -> None:
    desk.open(file).close()
    file.unlink()
    window = desk.new()
    fill_recent(window, window.recent_menu)
    window.recent_menu.actions()[0].trigger()
    assert "not there any more" in window.statusBar().currentMessage()
    assert desk.settings.recent == ()
    fill_recent(window, window.recent_menu)
    (empty,) = window.recent_menu.actions()
    assert not empty.isEnabled()


def drop(window: Window, *paths: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    event = QDropEvent(
        QPointF(5, 5), Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    window.dropEvent(event)
    assert event.isAccepted()


def test_a_dropped_stack_is_opened(window: Window, desk: Desk, file: Path) -> None:
    drop(window, file)
    assert desk.window_of(file) is not None


@pytest.mark.parametrize("name", ["a.dxf", "a.SVG", "a.csv", "a.png"])
def test_a_dropped_drawing_goes_to_the_wanted_profile(
    window: Window, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, name: str
) -> None:
    taken: list[Path] = []
    monkeypatch.setattr(TargetPanel, "import_file", lambda self, path: taken.append(path))
    drop(window, tmp_path / name)
    assert taken == [tmp_path / name]
    assert window.docks["target"].isVisible()


def test_what_cannot_be_dropped_is_named(window: Window, tmp_path: Path) -> None:
    drop(window, tmp_path / "a.doc")
    told = row(window, "dropping")
    assert ".stack.toml" in told.notice.text
    assert told.notice.details == ("a.doc: is of no kind that is read",)


def test_a_file_changed_outside_is_reloaded_as_a_step(desk: Desk, file: Path) -> None:
    window = desk.open(file)
    window.watch.look()
    assert window.notices.is_empty
    retitled(window, "Mine")
    write_stack(replace(BOARD, title="Theirs"), file)
    window.watch.look()
    told = row(window, "outside")
    assert "changed by another program" in told.notice.text
    told.buttons["Reload"].click()
    assert window.document.stack.title == "Theirs"
    assert not window.isWindowModified()
    assert window.actions_by_name["undo"].text() == "&Undo reload the file"
    window.document.undo()
    assert window.document.stack.title == "Mine"


def test_a_file_changed_outside_can_be_kept_as_it_is_here(desk: Desk, file: Path) -> None:
    window = desk.open(file)
    write_stack(replace(BOARD, title="Theirs"), file)
    window.watch.look()
    row(window, "outside").buttons["Keep mine"].click()
    assert window.isWindowModified()
    window.watch.look()
    assert window.notices.is_empty
    assert window.save()
    assert read_stack(file).title == "Crown"


def test_saving_over_another_programs_change_asks_first(desk: Desk, file: Path) -> None:
    window = desk.open(file)
    retitled(window, "Mine")
    write_stack(replace(BOARD, title="Theirs"), file)
    assert not window.save()
    assert read_stack(file).title == "Theirs"
    row(window, "outside").buttons["Save mine"].click()
    assert read_stack(file).title == "Mine"
    assert read_stack(f"{file}.bak").title == "Theirs"
    assert window.notices.is_empty


def test_a_file_that_vanished_is_told_and_the_document_counts_as_not_saved(
    desk: Desk, file: Path
) -> None:
    window = desk.open(file)
    file.unlink()
    window.watch.look()
    assert "not there any more" in row(window, "outside").notice.text
    assert window.isWindowModified()
    assert window.save()
    assert read_stack(file) == BOARD


def test_reloading_a_file_that_is_broken_now_keeps_what_is_seen(desk: Desk, file: Path) -> None:
    window = desk.open(file)
    file.write_text("format = 1")
    window.watch.look()
    row(window, "outside").buttons["Reload"].click()
    told = row(window, "outside")
    assert told.notice.grave
    assert "format" in told.notice.details[0]
    assert window.document.stack == BOARD
    assert window.isWindowModified()
