"""Journals: what a run that died leaves behind."""

from __future__ import annotations

import errno
import json
import os
import signal
import subprocess
import sys
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from profilestack.errors import FileError
from profilestack.files.saving import Disk
from profilestack.files.stack_file import write_stack
from profilestack.session import journal
from profilestack.session.journal import Journal, Kept
from profilestack.session.new_board import new_board
from profilestack.session.running import ENDING as ALIVE
from profilestack.session.running import Running, is_alive
from profilestack.stack import Stack

BOARD = replace(new_board("mm"), title="Crown")


def died(folder: Path, stack: Stack = BOARD, path: Path | None = None) -> Path:
    """What a run leaves that ended without closing its document."""
    running = Running(folder)
    left = Journal(running)
    left.write(stack, path, "Move pass 3")
    running.end()
    return left.place


def found(folder: Path) -> tuple[tuple[Kept, ...], tuple[str, ...]]:
    return journal.left_behind(Running(folder))


def test_what_a_dead_run_left_is_found(tmp_path: Path) -> None:
    place = died(tmp_path, path=tmp_path / "crown.stack.toml")
    (kept,), messages = found(tmp_path)
    assert messages == ()
    assert kept.stack == BOARD
    assert kept.path == tmp_path / "crown.stack.toml"
    assert kept.label == "Move pass 3"
    assert kept.place == place
    assert kept.called == "crown.stack.toml"
    assert abs(datetime.now().astimezone() - kept.written) < timedelta(minutes=1)


def test_what_a_living_run_keeps_is_left_alone(tmp_path: Path) -> None:
    running = Running(tmp_path)
    Journal(running).write(BOARD, None, "")
    assert is_alive(tmp_path, running.name)
    assert found(tmp_path) == ((), ())
    assert journal.left_behind(running) == ((), ())
    running.end()
    assert not is_alive(tmp_path, running.name)
    assert len(found(tmp_path)[0]) == 1


def test_a_journal_names_its_process(tmp_path: Path) -> None:
    place = died(tmp_path)
    assert place.name.startswith(f"{os.getpid()}-")
    assert json.loads(place.read_text())["run"].startswith(f"{os.getpid()}-")


def test_the_same_state_is_written_once(tmp_path: Path) -> None:
    running = Running(tmp_path)
    kept = Journal(running)
    assert kept.write(BOARD, None, "")
    before = kept.place.stat().st_ino
    assert not kept.write(BOARD, None, "")
    assert kept.place.stat().st_ino == before
    assert kept.write(replace(BOARD, title="b"), None, "")
    assert len(list(tmp_path.glob("*.journal"))) == 1
    running.end()


def test_a_cleared_journal_is_gone_and_can_be_written_again(tmp_path: Path) -> None:
    running = Running(tmp_path)
    kept = Journal(running)
    kept.clear()
    kept.write(BOARD, None, "")
    kept.clear()
    assert list(tmp_path.glob("*.journal")) == []
    assert kept.write(BOARD, None, "")
    running.end()


def test_several_documents_have_a_journal_each_newest_first(tmp_path: Path) -> None:
    running = Running(tmp_path)
    for title in ("a", "b"):
        Journal(running).write(replace(BOARD, title=title), None, "")
    running.end()
    kept, _ = found(tmp_path)
    assert {single.stack.title for single in kept} == {"a", "b"}
    assert kept[0].written >= kept[1].written


class FullDisk(Disk):
    """Takes so many bytes and no more."""

    def write(self, descriptor: int, data: bytes) -> int:
        raise OSError(errno.ENOSPC, "no space")


def test_a_full_disk_leaves_the_former_journal(tmp_path: Path) -> None:
    running = Running(tmp_path)
    kept = Journal(running)
    kept.write(BOARD, None, "")
    full = Journal(running, FullDisk(), kept.place)
    with pytest.raises(FileError, match="full"):
        full.write(replace(BOARD, title="newer"), None, "")
    running.end()
    (left,), _ = found(tmp_path)
    assert left.stack == BOARD


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(FileError, match="cannot be written to"):
        Journal(Running(tmp_path / "file" / "journals")).write(BOARD, None, "")


@pytest.mark.parametrize(
    "spoil",
    [
        lambda text: text[: len(text) // 2],
        lambda text: "",
        lambda text: "[]",
        lambda text: "[" * 100_000,
        lambda text: text.replace("profilestack-journal/1", "profilestack-journal/2"),
        lambda text: text.replace('"label": "Move pass 3"', '"label": 3'),
        lambda text: text.replace("width = 60", "width = -60"),
        lambda text: text.replace('"written": "2', '"written": "x'),
    ],
)
def test_a_broken_journal_is_set_aside_with_one_message(tmp_path: Path, spoil: object) -> None:
    assert callable(spoil)
    place = died(tmp_path)
    good = died(tmp_path, replace(BOARD, title="good"))
    spoiled = spoil(place.read_text())
    assert spoiled != place.read_text()
    place.write_text(spoiled)
    kept, messages = found(tmp_path)
    assert [single.place for single in kept] == [good]
    assert len(messages) == 1
    assert place.name in messages[0]
    assert not place.exists()
    assert place.with_name(f"{place.name}.bad").read_text() == spoiled
    assert found(tmp_path)[1] == ()


def test_a_journal_of_what_was_saved_after_all_is_not_offered(tmp_path: Path) -> None:
    path = tmp_path / "crown.stack.toml"
    write_stack(BOARD, path)
    place = died(tmp_path, path=path)
    assert found(tmp_path) == ((), ())
    assert not place.exists()


def test_only_one_run_can_take_a_journal_over(tmp_path: Path) -> None:
    died(tmp_path)
    first, second = Running(tmp_path), Running(tmp_path)
    (kept,), _ = journal.left_behind(first)
    taken = journal.claim(kept, first)
    assert taken is not None
    assert taken.place.exists()
    assert journal.claim(kept, second) is None
    assert journal.left_behind(second) == ((), ())
    first.end()
    assert len(journal.left_behind(second)[0]) == 1
    second.end()


def test_what_is_discarded_can_be_taken_back_for_a_time(tmp_path: Path) -> None:
    died(tmp_path)
    (kept,), _ = found(tmp_path)
    gone = journal.discard(kept)
    assert found(tmp_path) == ((), ())
    assert journal.take_back(gone).place == kept.place
    assert len(found(tmp_path)[0]) == 1
    gone = journal.discard(kept)
    running = Running(tmp_path)
    journal.clear_discarded(running, datetime.now().astimezone() - timedelta(days=1))
    assert gone.place.exists()
    journal.clear_discarded(running, datetime.now().astimezone() + timedelta(days=1))
    assert not gone.place.exists()


CHILD = """
import sys, time
from dataclasses import replace
from pathlib import Path
from profilestack.session.journal import Journal
from profilestack.session.new_board import new_board
from profilestack.session.running import Running
from profilestack.session.session import Session

session = Session(new_board("mm"))
kept = Journal(Running(Path(sys.argv[1])))
for number in range(3):
    session.edit(replace(session.stack, title=f"edit {number}"), f"Edit {number}")
    kept.write(session.settled, session.path, session.undo_label)
print("ready", flush=True)
time.sleep(600)
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs a way to kill at once")
def test_unsaved_work_of_a_killed_process_is_recovered(tmp_path: Path) -> None:
    child = subprocess.Popen(
        [sys.executable, "-c", CHILD, str(tmp_path)], stdout=subprocess.PIPE, text=True
    )
    try:
        assert child.stdout is not None
        assert child.stdout.readline() == "ready\n"
        assert found(tmp_path) == ((), ()), "it is alive"
        child.kill()
        assert child.wait() == -signal.SIGKILL
    finally:
        child.kill()
        child.communicate()
    (kept,), messages = found(tmp_path)
    assert messages == ()
    assert kept.stack == replace(new_board("mm"), title="edit 2")
    assert kept.label == "Edit 2"
    assert kept.run.startswith(f"{child.pid}-")
    assert list(tmp_path.glob(f"*{ALIVE}")) == [], "the dead run's mark is cleared away"
