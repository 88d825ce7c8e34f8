"""The past of a document, and the session that owns it."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest

from profilestack.errors import FileError, InputError
from profilestack.files.stack_file import read_stack, write_stack
from profilestack.session import history
from profilestack.session.history import History
from profilestack.session.new_board import new_board
from profilestack.session.session import Session
from profilestack.stack import Pass, Stack


def titled(title: str) -> Stack:
    return replace(new_board("mm"), title=title)


def test_steps_are_taken_back_in_turn() -> None:
    past = History(titled("a"))
    past.add(titled("b"), "Name it b")
    past.add(titled("c"), "Name it c")
    assert (past.undo_label, past.redo_label) == ("Name it c", None)
    past.undo()
    assert past.current.stack.title == "b"
    assert (past.undo_label, past.redo_label) == ("Name it b", "Name it c")
    past.undo()
    past.undo()
    assert past.current.stack.title == "a"
    assert past.undo_label is None
    past.redo()
    past.redo()
    past.redo()
    assert past.current.stack.title == "c"


def test_an_edit_after_undo_forgets_what_was_undone() -> None:
    past = History(titled("a"))
    past.add(titled("b"), "b")
    past.undo()
    past.add(titled("c"), "c")
    assert past.redo_label is None
    past.undo()
    assert past.current.stack.title == "a"


def test_edits_in_a_row_with_one_word_are_one_step() -> None:
    past = History(titled("a"))
    for title in "bcd":
        past.add(titled(title), f"nudge to {title}", "nudge 1")
    assert past.undo_label == "nudge to d"
    past.undo()
    assert past.current.stack.title == "a"


def test_merging_ends_where_it_is_said() -> None:
    past = History(titled("a"))
    past.add(titled("b"), "b", "nudge 1")
    past.end_merging()
    past.add(titled("c"), "c", "nudge 1")
    past.undo()
    assert past.current.stack.title == "b"


def test_a_state_that_was_gone_back_to_is_not_merged_away() -> None:
    past = History(titled("a"))
    past.add(titled("b"), "b", "nudge 1")
    past.add(titled("c"), "c")
    past.undo()
    past.add(titled("d"), "d", "nudge 1")
    past.undo()
    assert past.current.stack.title == "b"


def test_the_oldest_steps_are_forgotten_first(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(history, "MOST", 5)
    past = History(titled("0"))
    for number in range(1, 20):
        past.add(titled(str(number)), str(number))
    for _ in range(20):
        past.undo()
    assert past.current.stack.title == "15"


def saved(folder: Path, stack: Stack) -> Path:
    path = folder / "a.stack.toml"
    write_stack(stack, path)
    return path


def test_a_session_is_modified_until_it_is_saved_or_undone(tmp_path: Path) -> None:
    session = Session.open(saved(tmp_path, titled("a")))
    assert not session.is_modified
    session.edit(titled("b"), "b")
    assert session.is_modified
    session.undo()
    assert not session.is_modified
    session.redo()
    session.save()
    assert not session.is_modified
    assert read_stack(tmp_path / "a.stack.toml").title == "b"
    session.undo()
    assert session.is_modified


def test_an_edit_that_changes_nothing_is_no_step() -> None:
    session = Session(titled("a"))
    assert not session.edit(titled("a"), "nothing")
    assert session.undo_label is None


def test_a_preview_is_no_step_and_is_not_saved(tmp_path: Path) -> None:
    session = Session(titled("a"))
    session.preview(titled("seen"))
    assert session.stack.title == "seen"
    assert not session.is_modified
    session.save(tmp_path / "a.stack.toml")
    assert read_stack(tmp_path / "a.stack.toml").title == "a"
    session.abandon()
    assert session.stack.title == "a"


def test_a_stack_with_an_unknown_bit_is_shown_with_the_reason() -> None:
    stack = replace(new_board("mm"), passes=(Pass("no-such-bit", 5.0, 2.0),))
    session = Session(stack)
    assert session.report is None
    assert session.trouble[0].where == "pass[1].bit"
    session.edit(replace(stack, passes=()), "Delete pass 1")
    assert session.report is not None
    assert session.trouble == ()


def test_another_programs_change_is_noticed_and_can_be_taken(tmp_path: Path) -> None:
    path = saved(tmp_path, titled("a"))
    session = Session.open(path)
    session.edit(titled("mine"), "mine")
    assert session.changed_outside() == ""
    write_stack(titled("theirs"), path)
    assert session.changed_outside() == "changed"
    session.reload()
    assert session.stack.title == "theirs"
    assert not session.is_modified
    assert session.changed_outside() == ""
    session.undo()
    assert session.stack.title == "mine"
    assert session.is_modified


def test_a_file_that_was_only_touched_is_not_changed(tmp_path: Path) -> None:
    path = saved(tmp_path, titled("a"))
    session = Session.open(path)
    os.utime(path, (1, 1))
    assert session.changed_outside() == ""


def test_keeping_mine_makes_it_modified_and_asks_no_more(tmp_path: Path) -> None:
    path = saved(tmp_path, titled("a"))
    session = Session.open(path)
    write_stack(titled("theirs"), path)
    session.keep_mine()
    assert session.is_modified
    assert session.changed_outside() == ""
    session.save()
    assert read_stack(path).title == "a"


def test_a_deleted_file_is_noticed(tmp_path: Path) -> None:
    path = saved(tmp_path, titled("a"))
    session = Session.open(path)
    path.unlink()
    assert session.changed_outside() == "gone"


def test_reloading_a_broken_file_leaves_the_document(tmp_path: Path) -> None:
    path = saved(tmp_path, titled("a"))
    session = Session.open(path)
    session.edit(titled("mine"), "mine")
    path.write_text("no = stack")
    with pytest.raises(InputError):
        session.reload()
    assert session.stack.title == "mine"
    assert session.is_modified


def test_a_failed_save_leaves_the_document_modified(tmp_path: Path) -> None:
    session = Session.open(saved(tmp_path, titled("a")))
    session.edit(titled("b"), "b")
    with pytest.raises(FileError):
        session.save(tmp_path / "no such folder" / "b.stack.toml")
    assert session.is_modified
    assert session.path == tmp_path / "a.stack.toml"


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_new_board_can_be_saved_and_read(tmp_path: Path, units: str) -> None:
    board = new_board(units)
    assert board.units == units
    path = saved(tmp_path, board)
    assert read_stack(path) == board
