"""Documents: open, save, close, recent, drop, changed by others, recovery, faults."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop import asking, file_actions
from profilestack.desktop.asking import Answer
from profilestack.desktop.desk import Desk
from profilestack.desktop.faults import Faults
from profilestack.desktop.main import begin
from profilestack.desktop.menus import fill_recent
from profilestack.desktop.notices import NoticeRow
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.window import Window
from profilestack.files import saving
from profilestack.files.stack_file import read_stack, write_stack
from profilestack.session.journal import Journal
from profilestack.session.new_board import new_board
from profilestack.session.places import Places
from profilestack.session.running import Running
from profilestack.session.settings import read_settings
from profilestack.stack import Stack

BOARD = replace(new_board("mm"), title="Crown")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "crown.stack.toml"
    write_stack(BOARD, path)
    return path


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


# -- opening and saving ----------------------------------------------------------------------------


def test_the_first_start_opens_the_example_later_ones_the_last_file(
    desk: Desk, qapp: QApplication, places: Places, file: Path
) -> None:
    begin(desk)
    (first,) = desk.windows
    assert len(first.document.stack.passes) == 10
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


# -- closing ---------------------------------------------------------------------------------------


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


# -- files that cannot be opened -------------------------------------------------------------------


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


# -- recent files, dropped files -------------------------------------------------------------------


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


# -- changed by others -----------------------------------------------------------------------------


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


# -- journals --------------------------------------------------------------------------------------


def test_the_journal_follows_the_document(desk: Desk, file: Path, qtbot: QtBot) -> None:
    window = desk.open(file)
    place = window.keeping.journal.place
    window.keeping.keep()
    assert not place.exists()
    retitled(window, "Changed")
    window.keeping.keep()
    assert "Changed" in place.read_text()
    retitled(window, "Again")
    window.keeping.keep()
    assert "Again" in place.read_text()
    window.actions_by_name["undo"].trigger()
    qtbot.waitUntil(lambda: "Changed" in place.read_text())
    window.save()
    assert not place.exists()


def test_the_journal_is_written_every_ten_seconds(window: Window) -> None:
    from profilestack.desktop import keeping

    assert keeping.EVERY == 10_000
    timer = window.keeping.timer
    assert timer.isActive()
    assert timer.interval() == keeping.EVERY
    retitled(window, "Changed")
    timer.timeout.emit()
    assert window.keeping.journal.place.exists()


def test_a_journal_that_cannot_be_written_is_told_once(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(self: object, descriptor: int, data: bytes) -> int:
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(saving.Disk, "write", full)
    retitled(window, "Changed")
    window.keep()
    row(window, "journal").buttons["Close"].click()
    window.keep()
    assert window.notices.is_empty


def left(places: Places, stack: Stack, path: Path | None) -> Path:
    """What a run leaves that died."""
    running = Running(places.journals)
    journal = Journal(running)
    journal.write(stack, path, "Move pass 3")
    running.end()
    return journal.place


def test_unsaved_work_is_offered_and_restored(desk: Desk, places: Places, file: Path) -> None:
    place = left(places, replace(BOARD, title="Unsaved"), file)
    begin(desk)
    told = row(desk.windows[0], f"journal {place.name}")
    assert told.notice.text.startswith("crown.stack.toml was not saved when profilestack ended")
    assert told.notice.text.endswith("Last step: Move pass 3.")
    told.buttons["Restore"].click()
    (window,) = desk.windows
    assert window.document.stack.title == "Unsaved"
    assert window.document.session.path == file
    assert window.isWindowModified()
    assert not place.exists()
    assert window.keeping.journal.place.exists(), "it is kept until it is saved"
    window.save()
    assert read_stack(file).title == "Unsaved"
    assert not window.keeping.journal.place.exists()


def test_unsaved_work_of_a_file_that_is_open_becomes_a_step_there(
    desk: Desk, places: Places, file: Path
) -> None:
    place = left(places, replace(BOARD, title="Unsaved"), file)
    begin(desk, [file])
    row(desk.windows[0], f"journal {place.name}").buttons["Restore"].click()
    (window,) = desk.windows
    assert window.document.stack.title == "Unsaved"
    assert window.document.session.undo_label == "Restore unsaved work"


def test_discarded_work_can_be_taken_back(desk: Desk, places: Places) -> None:
    place = left(places, replace(BOARD, title="Unsaved"), None)
    begin(desk)
    window = desk.windows[0]
    about = f"journal {place.name}"
    row(window, about).buttons["Discard"].click()
    assert not place.exists()
    row(window, about).buttons["Take it back"].click()
    row(window, about).buttons["Restore"].click()
    assert desk.windows[-1].document.stack.title == "Unsaved"


def test_a_broken_journal_is_told_once_and_set_aside(desk: Desk, places: Places) -> None:
    place = left(places, BOARD, None)
    place.write_text("{")
    begin(desk)
    told = row(desk.windows[0], "broken journals")
    assert place.name in told.notice.details[0]
    assert place.with_name(f"{place.name}.bad").exists()


def test_broken_settings_are_told_in_the_first_window(
    qtbot: QtBot, qapp: QApplication, places: Places
) -> None:
    places.config.mkdir()
    places.settings.write_text("{")
    desk = Desk(qapp, None, places)
    begin(desk)
    assert "is no JSON" in row(desk.windows[0], "settings").notice.text
    assert (places.config / "settings.json.bad").exists()
    desk.windows[0].close()
    desk.deleteLater()


CHILD = """
import sys
from dataclasses import replace
from pathlib import Path
from PySide6.QtCore import QTimer
from profilestack.desktop.desk import Desk
from profilestack.desktop.main import application, begin
from profilestack.session.places import Places

app = application()
desk = Desk(app, "light", Places(Path(sys.argv[1]), Path(sys.argv[2])))
begin(desk, [Path(sys.argv[3])])
window = desk.windows[0]
document = window.document
for title in ("one", "two", "three"):
    document.edit(replace(document.stack, title=title), f"Name it {title}")
window.actions_by_name["undo"].trigger()
QTimer.singleShot(1000, lambda: print("ready", flush=True))
app.exec()
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs a way to kill at once")
def test_work_of_a_killed_app_is_restored(desk: Desk, places: Places, file: Path) -> None:
    arguments = [sys.executable, "-c", CHILD, str(places.config), str(places.state), str(file)]
    child = subprocess.Popen(arguments, stdout=subprocess.PIPE, text=True, env=os.environ.copy())
    try:
        assert child.stdout is not None
        assert child.stdout.readline() == "ready\n"
        child.kill()
        assert child.wait() == -signal.SIGKILL
    finally:
        child.kill()
        child.communicate()
    assert read_stack(file).title == "Crown"
    begin(desk)
    window = desk.windows[0]
    (place,) = places.journals.glob("*.journal")
    row(window, f"journal {place.name}").buttons["Restore"].click()
    (restored,) = [each for each in desk.windows if each.document.session.path == file]
    assert restored.document.stack.title == "two"
    assert restored.isWindowModified()


# -- faults of the program -------------------------------------------------------------------------


def test_a_fault_is_shown_the_journal_written_and_the_app_goes_on(
    window: Window, desk: Desk, qtbot: QtBot, capsys: pytest.CaptureFixture[str]
) -> None:
    retitled(window, "Changed")
    faults = Faults(desk.keep_all, desk)
    for _ in range(2):
        try:
            raise ZeroDivisionError("in a slot")
        except ZeroDivisionError as error:
            faults.take(type(error), error, error.__traceback__)
    qtbot.waitUntil(lambda: faults.dialog is not None)
    dialog = faults.dialog
    assert dialog is not None
    assert dialog.isVisible()
    assert not dialog.isModal()
    assert dialog.text.toPlainText().count("ZeroDivisionError: in a slot") == 1
    dialog.copy_button.click()
    assert "in a slot" in QGuiApplication.clipboard().text()
    assert window.keeping.journal.place.exists()
    assert "in a slot" in capsys.readouterr().err
    dialog.close()
    retitled(window, "Still alive")
    assert window.document.stack.title == "Still alive"


def test_settings_that_cannot_be_kept_are_told_and_used(
    window: Window, desk: Desk, places: Places
) -> None:
    places.config.mkdir(parents=True, exist_ok=True)
    places.settings.unlink(missing_ok=True)
    places.settings.mkdir()
    desk.set_units("in")
    assert window.document.units == "in"
    assert desk.settings.units == "in"
    assert "not kept" in row(window, "settings").notice.text
