"""Journals, recovery, and faults of the program."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.faults import Faults
from profilestack.desktop.keeping import AFTER_EDIT
from profilestack.desktop.main import begin
from profilestack.desktop.recovery import DISCARD, LATER, NO_PAST, RESTORE
from profilestack.desktop.window import Window
from profilestack.files import saving
from profilestack.files.stack_file import read_stack
from profilestack.session.journal import Journal
from profilestack.session.places import Places
from profilestack.session.running import Running
from profilestack.stack import Stack
from tests.gui.documents import BOARD, retitled, row


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


def test_an_edit_is_in_the_journal_soon(window: Window, qtbot: QtBot) -> None:
    place = window.keeping.journal.place
    retitled(window, "Changed")
    assert not place.exists()
    qtbot.waitUntil(place.exists, timeout=3 * AFTER_EDIT)
    assert "Changed" in place.read_text()
    retitled(window, "Again")
    qtbot.waitUntil(lambda: "Again" in place.read_text(), timeout=3 * AFTER_EDIT)


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
    assert told.notice.text.endswith(f"Last step: Move pass 3. {NO_PAST}")
    told.buttons["Restore"].click()
    (window,) = desk.windows
    assert window.document.stack.title == "Unsaved"
    assert window.document.session.path == file
    assert window.isWindowModified()
    assert window.document.session.undo_label is None, "as the notice said"
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


@pytest.mark.parametrize("is_saved", [True, False])
def test_what_each_button_does_with_the_work_is_said(
    desk: Desk, places: Places, file: Path, is_saved: bool
) -> None:
    place = left(places, replace(BOARD, title="Unsaved"), file if is_saved else None)
    begin(desk)
    buttons = row(desk.windows[0], f"journal {place.name}").buttons
    assert list(buttons) == [RESTORE, DISCARD, LATER]
    thrown = buttons[DISCARD].toolTip()
    assert (str(file) in thrown) is is_saved
    assert ("no file has it" in thrown) is not is_saved
    assert all(button.accessibleDescription() for button in buttons.values())
    buttons[LATER].click()
    assert place.exists(), "it is offered again, as the button says"


def test_discarded_work_can_be_taken_back(desk: Desk, places: Places) -> None:
    place = left(places, replace(BOARD, title="Unsaved"), None)
    begin(desk)
    window = desk.windows[0]
    about = f"journal {place.name}"
    row(window, about).buttons[DISCARD].click()
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
