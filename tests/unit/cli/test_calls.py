"""Help, exit codes, and calls that are wrong."""

from __future__ import annotations

import argparse

import pytest

from profilestack import __version__
from profilestack.cli.commands import COMMANDS
from profilestack.errors import Cancelled
from tests.unit.cli.calling import BOARD, Call, Folder


def test_help_lists_every_command_and_says_what_comes_first(call: Call) -> None:
    answer = call("--help")
    assert answer.code == 0
    for name, command in COMMANDS.items():
        assert f"  {name} " in answer.out
        assert command.HELP.split()[0] in answer.out
    assert "qualified operator" in answer.out


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_its_help(name: str, call: Call) -> None:
    answer = call(name, "--help")
    assert answer.code == 0
    assert answer.out.startswith(f"usage: profilestack {name} ")
    words = " ".join(answer.out.split())
    assert "".join(COMMANDS[name].ABOUT.split()) in "".join(answer.out.split())
    assert "qualified operator" in words
    for shared in ("--bits", "--units"):
        assert shared in words
    # the app answers in its window: there is nothing to print or to write
    for shared in () if name == "app" else ("--json", "-o"):
        assert shared in words
    assert all(len(line) <= 80 for line in answer.out.splitlines())


def test_the_version_is_told(call: Call) -> None:
    answer = call("--version")
    assert (answer.code, answer.out) == (0, f"profilestack {__version__}\n")


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("ct", "did you mean 'cut'?"),
        ("templat", "did you mean 'template'?"),
        ("frobnicate", "known are demo, cut, "),
    ],
)
def test_an_unknown_command_is_answered_with_the_nearest(typed: str, hint: str, call: Call) -> None:
    answer = call(typed)
    assert (answer.code, answer.out) == (2, "")
    assert f"'{typed}' is no command" in answer.err
    assert hint in answer.err


def test_an_unknown_option_is_answered_with_the_nearest(board: str, call: Call) -> None:
    answer = call("cut", board, "--plto", "a.png")
    assert (answer.code, answer.out) == (2, "")
    assert "'--plto' is no option of profilestack cut; did you mean '--plot'?" in answer.err


def test_options_are_not_guessed_from_their_beginnings(board: str, call: Call) -> None:
    assert "'--uni' is no option" in call("cut", board, "--uni", "mm").err


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ([], "required: COMMAND"),
        (["cut"], "required: STACK"),
        (["cut", "board.stack.toml", "other"], "'other' is one too many"),
        (["cut", "board.stack.toml", "--units", "cm"], "invalid choice: 'cm'"),
        (["cut", "board.stack.toml", "--chord", "fine"], "--chord: 'fine' is no number"),
        (["cut", "board.stack.toml", "--chord", "0"], "chord: 0.0 is impossible"),
        (["cut", "board.stack.toml", "--chord", "nan"], "chord: nan is impossible"),
        (["template", "board.stack.toml"], "required: -o"),
        (["template", "board.stack.toml", "-o", "a.txt"], "a name that ends in .pdf"),
        (["template", "board.stack.toml", "-o", "a.pdf", "--paper", "A7"], "one of A4, "),
        (["template", "board.stack.toml", "-o", "a.pdf", "--margin", "3 mn"], "margin: '3 mn'"),
        (["cut", "board.stack.toml", "--plot", "a.doc"], "no known kind of picture"),
        (["cut", "board.stack.toml", "--plot", "board.stack.toml"], "is the stack as well"),
        (["cut", "board.stack.toml", "-o", "board.stack.toml"], "is the stack as well"),
        (["cut", "board.stack.toml", "-o", "./board.stack.toml"], "is the stack as well"),
        (["cut", "board.stack.toml", "-o", "a.png"], "--plot FILE for the picture"),
    ],
)
def test_a_wrong_call_is_told_and_writes_nothing(
    arguments: list[str], told: str, board: str, folder: Folder, call: Call
) -> None:
    answer = call(*arguments)
    assert answer.code == 2
    assert answer.out == ""
    assert answer.err.startswith("profilestack: ")
    assert told in answer.err
    assert folder.names() == {board}
    assert (folder.path / board).read_text(encoding="utf-8") == BOARD


def test_done_is_0(board: str, call: Call) -> None:
    answer = call("cut", board)
    assert answer.code == 0
    assert answer.err == ""


def test_a_broken_tolerance_is_1(casing: str, call: Call) -> None:
    answer = call("cut", casing)
    assert answer.code == 1
    assert "It does not fit." in answer.out


def test_a_caution_that_says_stop_is_1(folder: Folder, call: Call) -> None:
    # the hollow again, but 25 further down, where the shank has stock above the edge
    deep = BOARD.replace("depth = 10", "depth = 25").partition("[target]")[0]
    deep += "[[pass]]" + BOARD.partition("[[pass]]")[2].replace("depth = 10", "depth = 25")
    answer = call("cut", folder.write("deep.stack.toml", deep), "--json")
    stops = [each for each in answer.json["cautions"] if each["severity"] == "stop"]
    assert answer.code == 1
    assert answer.json["comparison"] is None
    assert {each["code"] for each in stops} >= {"too-deep"}
    told = call("cut", "deep.stack.toml").out
    assert "nothing to compare with" in told
    assert "do not cut it yet" in told


@pytest.mark.parametrize("stop", [KeyboardInterrupt, Cancelled])
def test_cancelled_is_130(
    stop: type[BaseException], board: str, call: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    def give_up(_: argparse.Namespace) -> int:
        raise stop

    monkeypatch.setattr(COMMANDS["cut"], "run", give_up)
    answer = call("cut", board)
    assert (answer.code, answer.out, answer.err) == (130, "", "profilestack: cancelled\n")


def test_a_bug_is_not_taken_for_the_users_mistake(
    board: str, call: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_: argparse.Namespace) -> int:
        raise ZeroDivisionError

    monkeypatch.setattr(COMMANDS["cut"], "run", fail)
    with pytest.raises(ZeroDivisionError):
        call("cut", board)
