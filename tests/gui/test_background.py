"""Jobs off the window's thread: answered, cancelled, dropped, failed, and never left behind."""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable

import pytest
import shiboken6
from PySide6.QtCore import QObject, QThread
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import Background, finish_under
from profilestack.errors import Cancelled, InputError, Problem
from profilestack.progress import Progress

LONG = 30.0
"""A job that nobody stops would take so long [s]: a test that forgets to stop it fails."""


def threads_of_jobs() -> list[threading.Thread]:
    return [each for each in threading.enumerate() if each.name == "profilestack-job"]


@pytest.fixture
def owner(qapp: object) -> QObject:
    return QObject()


def told(background: Background) -> list[tuple[str, object]]:
    heard: list[tuple[str, object]] = []
    background.done.connect(lambda result: heard.append(("done", result)))
    background.failed.connect(lambda error: heard.append(("failed", error)))
    background.stopped.connect(lambda: heard.append(("stopped", None)))
    background.ended.connect(lambda: heard.append(("ended", None)))
    return heard


def until_stopped(answer: Callable[[], object]) -> Callable[[object, Progress], object]:
    def job(request: object, progress: Progress) -> object:
        end = time.monotonic() + LONG
        while not progress.is_stopped() and time.monotonic() < end:
            time.sleep(0.005)
        assert progress.is_stopped()
        return answer()

    return job


def test_result_arrives_in_the_thread_of_the_window(qtbot: QtBot, owner: QObject) -> None:
    background = Background(owner)
    where = []
    background.done.connect(lambda _: where.append(QThread.currentThread()))

    def job(request: int, progress: Progress) -> tuple[int, str]:
        return 2 * request, threading.current_thread().name

    with qtbot.waitSignal(background.done) as answer:
        background.run(job, 21)
    assert answer.args == [(42, "profilestack-job")]
    assert where == [owner.thread()]
    qtbot.waitUntil(lambda: not background.is_busy)
    assert not threads_of_jobs()


def test_progress_is_told_and_not_too_often(qtbot: QtBot, owner: QObject) -> None:
    background = Background(owner)
    said: list[tuple[float, str]] = []
    background.progress.connect(lambda share, words: said.append((share, words)))

    def job(request: None, progress: Progress) -> None:
        for k in range(1000):
            progress.report(k / 1000, "looking")
        time.sleep(0.06)
        progress.report(1.0, "done looking")

    with qtbot.waitSignal(background.ended):
        background.run(job, None)
    assert said[0] == (0.0, "looking")
    assert said[-1] == (1.0, "done looking")
    assert len(said) < 20


def test_cancel_gives_the_best_so_far(qtbot: QtBot, owner: QObject) -> None:
    background = Background(owner)
    heard = told(background)
    with qtbot.waitSignal(background.ended):
        background.run(until_stopped(lambda: "best so far"), None)
        assert background.is_busy
        background.cancel()
    assert heard == [("done", "best so far"), ("ended", None)]


def test_cancel_with_nothing_to_show(qtbot: QtBot, owner: QObject) -> None:
    background = Background(owner)
    heard = told(background)

    def nothing() -> object:
        raise Cancelled

    with qtbot.waitSignal(background.ended):
        background.run(until_stopped(nothing), None)
        background.cancel()
    assert heard == [("stopped", None), ("ended", None)]


def test_dropped_result_says_nothing(qtbot: QtBot, owner: QObject) -> None:
    background = Background(owner)
    background.run(until_stopped(lambda: "unwanted"), None)
    heard = told(background)
    background.drop()
    assert heard == [("ended", None)]
    assert not background.is_busy
    qtbot.waitUntil(lambda: not threads_of_jobs())
    qtbot.wait(20)
    assert heard == [("ended", None)]


def test_new_job_drops_the_one_before_and_waits_for_it(qtbot: QtBot, owner: QObject) -> None:
    background = Background(owner)
    heard = told(background)
    most = []

    def count(request: str, progress: Progress) -> str:
        most.append(len(threads_of_jobs()))
        return request

    background.run(until_stopped(lambda: "first"), None)
    background.run(count, "second")
    background.run(count, "third")
    qtbot.waitUntil(lambda: not background.is_busy)
    assert heard == [("done", "third"), ("ended", None)]
    assert most == [1]


def test_mistake_of_the_user_arrives_as_such(qtbot: QtBot, owner: QObject) -> None:
    background = Background(owner)
    error = InputError(Problem("leftover", "is impossible", "above 0"))

    def job(request: None, progress: Progress) -> None:
        raise error

    with qtbot.waitSignal(background.failed) as answer:
        background.run(job, None)
    assert answer.args == [error]


def test_bug_goes_to_the_hook_with_its_place(
    qtbot: QtBot, owner: QObject, monkeypatch: pytest.MonkeyPatch
) -> None:
    hooked: list[tuple[type[BaseException], str]] = []

    def hook(kind: type[BaseException], error: BaseException, trace: object) -> None:
        assert trace is error.__traceback__ is not None
        hooked.append((kind, str(error)))

    monkeypatch.setattr(sys, "excepthook", hook)
    background = Background(owner)
    heard = told(background)

    def job(request: None, progress: Progress) -> None:
        raise ZeroDivisionError("a bug")

    with qtbot.waitSignal(background.ended):
        background.run(job, None)
    assert hooked == [(ZeroDivisionError, "a bug")]
    assert heard == [("ended", None)]


def test_closing_while_it_runs_leaves_no_thread(qtbot: QtBot, owner: QObject) -> None:
    child = QObject(owner)
    background = Background(child)
    heard = told(background)
    background.run(until_stopped(lambda: "late"), None)
    assert len(threads_of_jobs()) == 1
    finish_under(owner)
    assert not threads_of_jobs()
    qtbot.wait(20)
    assert ("done", "late") not in heard


def test_destroyed_owner_leaves_no_thread(qtbot: QtBot, owner: QObject) -> None:
    background = Background(owner)
    heard = told(background)
    background.run(until_stopped(lambda: "late"), None)
    shiboken6.delete(owner)
    assert not threads_of_jobs()
    qtbot.wait(20)
    assert heard == []


def test_unwanted_job_ends_where_it_next_asks_or_tells(qtbot: QtBot, owner: QObject) -> None:
    background = Background(owner)
    went_on = []

    def asking(request: None, progress: Progress) -> None:
        while not progress.is_stopped():
            time.sleep(0.005)
        went_on.append("asking")

    def telling(request: None, progress: Progress) -> None:
        while True:
            progress.report(0.5, "working")
            time.sleep(0.005)

    for job in (asking, telling):
        background.run(job, None)
        qtbot.wait(20)
        background.close()
        assert not threads_of_jobs()
    assert went_on == []


def test_window_goes_on_while_python_works(qtbot: QtBot, owner: QObject) -> None:
    background = Background(owner)

    def job(request: None, progress: Progress) -> int:
        return sum(k * k for k in range(3_000_000))

    pauses, last = [], time.monotonic()
    background.run(job, None)
    while background.is_busy:
        qtbot.wait(1)
        now = time.monotonic()
        pauses.append(now - last)
        last = now
    assert len(pauses) > 5
    assert sorted(pauses)[len(pauses) // 2] < 0.1
