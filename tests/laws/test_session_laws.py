"""An open document against a plain model: a list of stacks and a place in it."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
from dataclasses import replace
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as some
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from profilestack.errors import FileError
from profilestack.files.saving import Disk
from profilestack.files.stack_file import read_stack, stack_text
from profilestack.session import pass_edits
from profilestack.session.bits_at_hand import BitsAtHand
from profilestack.session.journal import Journal, left_behind
from profilestack.session.new_board import new_board
from profilestack.session.running import Running
from profilestack.session.session import Session
from profilestack.stack import Pass, Stack
from profilestack.stack.edits import with_passes_added

BITS = BitsAtHand()
IDS = ("straight-1-2in", "core-box-1-2in", "v90-1-2in", "no-such-bit")
LENGTHS = some.integers(1, 600).map(lambda tenths: tenths / 10.0)
PASSES = some.builds(Pass, some.sampled_from(IDS), LENGTHS, LENGTHS)
INDICES = some.sets(some.integers(0, 2), max_size=2)


class OpenDocument(RuleBasedStateMachine):
    """Whatever the hand does, what is shown, undone, saved and kept is what the model says."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "a.stack.toml"
        self.running = Running(self.folder / "journals")
        self.states: list[Stack] = []
        self.labels: list[str] = []
        self.at = 0
        self.saved: Stack | None = None
        self.previewed: Stack | None = None
        self.merging = ""

    @initialize(units=some.sampled_from(["mm", "in"]))
    def begin(self, units: str) -> None:
        passes = (Pass(IDS[0], 12.0, 3.0), Pass(IDS[1], 30.0, 4.0))
        stack = replace(new_board(units), passes=passes)
        self.session = Session(stack, bits=BITS)
        self.journal = Journal(self.running)
        self.states, self.labels = [stack], [""]

    # -- the model --------------------------------------------------------------------------------

    @property
    def now(self) -> Stack:
        return self.states[self.at]

    def expect(self, stack: Stack, label: str, merging: str = "") -> None:
        self.previewed = None
        if stack == self.now:
            return
        if merging and merging == self.merging and self.at > 0:
            del self.states[self.at :], self.labels[self.at :]
            self.at -= 1
        del self.states[self.at + 1 :], self.labels[self.at + 1 :]
        self.states.append(stack)
        self.labels.append(label)
        self.at += 1
        self.merging = merging

    def do(self, edited: tuple[Stack, str], merging: str = "") -> None:
        self.session.edit(*edited, merging)
        self.expect(*edited, merging)

    # -- what the hand does -----------------------------------------------------------------------

    @rule(passes=some.lists(PASSES, min_size=1, max_size=2), at=some.integers(0, 3))
    def add(self, passes: list[Pass], at: int) -> None:
        place = min(at, len(self.now.passes))
        self.do((with_passes_added(self.now, passes, place), "Add"))

    @rule(indices=INDICES)
    def delete(self, indices: set[int]) -> None:
        self.do(pass_edits.deleted(self.now, indices))

    @rule(index=some.integers(0, 1), across=some.lists(LENGTHS, min_size=1, max_size=3))
    def nudge(self, index: int, across: list[float]) -> None:
        for single in across:
            self.do(pass_edits.nudged(self.now, {index}, single, 0.0), f"nudge {index}")

    @rule(index=some.integers(0, 1), across=LENGTHS)
    def nudge_back(self, index: int, across: float) -> None:
        self.do(pass_edits.nudged(self.now, {index}, -across, 0.0), f"nudge {index}")

    @rule()
    def let_go(self) -> None:
        self.session.end_merging()
        self.merging = ""

    @rule(indices=INDICES)
    def switch(self, indices: set[int]) -> None:
        self.do(pass_edits.switched(self.now, indices))

    @rule(indices=INDICES, later=some.booleans())
    def reorder(self, indices: set[int], later: bool) -> None:
        move = pass_edits.moved_later if later else pass_edits.moved_earlier
        self.do(move(self.now, indices))

    @rule(title=some.text("abc", max_size=2))
    def preview(self, title: str) -> None:
        self.previewed = replace(self.now, title=title)
        self.session.preview(self.previewed)

    @rule()
    def abandon(self) -> None:
        self.session.abandon()
        self.previewed = None

    @rule()
    def undo(self) -> None:
        self.session.undo()
        self.at = max(0, self.at - 1)
        self.previewed, self.merging = None, ""

    @rule(index=some.integers(0, 1), across=LENGTHS)
    def undo_and_nudge(self, index: int, across: float) -> None:
        self.undo()
        self.nudge_back(index, across)

    @rule()
    def redo(self) -> None:
        self.session.redo()
        self.at = min(len(self.states) - 1, self.at + 1)
        self.previewed, self.merging = None, ""

    @rule()
    def save(self) -> None:
        self.session.save(self.path)
        self.saved, self.merging = self.now, ""

    @precondition(lambda self: self.saved is not None)
    @rule()
    def fail_to_save(self) -> None:
        class Broken(Disk):
            def replace(self, source: str, target: str) -> None:
                raise OSError(5, "broken")

        before = self.path.read_bytes()
        from profilestack.files import stack_file

        with contextlib.suppress(FileError):
            stack_file.write_stack(self.now, self.path, Broken())
        assert self.path.read_bytes() == before

    @precondition(lambda self: self.saved is not None)
    @rule()
    def open_again(self) -> None:
        assert self.saved is not None
        self.session = Session.open(self.path, BITS)
        self.journal.clear()
        self.states, self.labels, self.at = [self.saved], [""], 0
        self.previewed, self.merging = None, ""

    @precondition(lambda self: self.session.is_modified)
    @rule()
    def die_and_recover(self) -> None:
        self.journal.write(self.session.settled, self.session.path, "")
        self.running.end()
        self.running = Running(self.folder / "journals")
        kept, messages = left_behind(self.running)
        assert messages == ()
        if self.saved == self.now:  # modified and back again by hand: nothing is to be recovered
            assert kept == ()
        else:
            assert [single.stack for single in kept] == [self.now]
        self.journal.clear()
        self.journal = Journal(self.running)

    # -- what must hold ---------------------------------------------------------------------------

    @invariant()
    def the_session_is_the_model(self) -> None:
        if not self.states:
            return
        assert self.session.settled == self.now
        assert self.session.stack == (self.now if self.previewed is None else self.previewed)
        assert self.session.undo_label == (self.labels[self.at] if self.at else None)
        ahead = self.labels[self.at + 1 : self.at + 2]
        assert self.session.redo_label == (ahead[0] if ahead else None)

    @invariant()
    def what_is_shown_is_judged(self) -> None:
        if not self.states:
            return
        unknown = any(single.bit == "no-such-bit" for single in self.session.stack.passes)
        assert (self.session.report is None) is unknown
        assert bool(self.session.trouble) is unknown
        if self.session.report is not None:
            assert self.session.report.stack is self.session.stack

    @invariant()
    def nothing_unsaved_counts_as_saved(self) -> None:
        if self.states and not self.session.is_modified and self.session.path is not None:
            assert read_stack(self.path) == self.now
            assert self.path.read_text() == stack_text(self.now)

    def teardown(self) -> None:
        self.running.end()
        shutil.rmtree(self.folder)


OpenDocument.TestCase.settings = settings(
    max_examples=100, stateful_step_count=25, deadline=None, derandomize=True, database=None
)
TestOpenDocument = OpenDocument.TestCase
