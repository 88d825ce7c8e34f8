"""Work that cannot be cut short is waited for no longer than the user does."""

from __future__ import annotations

import threading

import pytest

from profilestack.finding.waiting import unless_stopped
from profilestack.progress import SILENT, Progress


def test_the_answer_is_handed_on() -> None:
    assert unless_stopped(lambda: 42, SILENT) == 42


def test_a_failure_is_handed_on() -> None:
    def fails() -> int:
        raise ValueError("no such cover")

    with pytest.raises(ValueError, match="no such cover"):
        unless_stopped(fails, SILENT)


def test_a_stop_is_heard_while_the_work_goes_on() -> None:
    may_end, ended = threading.Event(), threading.Event()

    def work() -> int:
        assert may_end.wait(30.0)
        ended.set()
        return 1

    assert unless_stopped(work, Progress(is_stopped=lambda: True)) is None
    assert not ended.is_set()
    may_end.set()
    assert ended.wait(30.0)  # no thread is left behind
