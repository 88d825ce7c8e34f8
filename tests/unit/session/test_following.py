"""What is chosen or looked at follows its pass through a change of the stack."""

from __future__ import annotations

from dataclasses import replace

from profilestack.session.following import followed, moment_followed
from profilestack.session.new_board import new_board
from profilestack.stack import Pass, Stack

A, B, C, NEW = (Pass("straight-1-2in", 10.0 * k, 3.0) for k in range(1, 5))


def stack(*passes: Pass) -> Stack:
    return replace(new_board("mm"), passes=passes)


def test_a_pass_is_followed_to_its_new_place() -> None:
    before = stack(A, B, C)
    assert followed(before, stack(NEW, A, B, C), (0, 2)) == (1, 3)
    assert followed(before, stack(C, A, B), (0, 2)) == (0, 1)
    assert followed(before, stack(B, C), (0, 1)) == (0,), "a pass that is gone is let go"
    assert followed(stack(A, NEW, B), stack(A, B), (1,)) == ()


def test_an_edited_pass_keeps_its_place() -> None:
    before = stack(A, B, C)
    edited = replace(B, depth=4.0)
    assert followed(before, stack(A, edited, C), (1,)) == (1,)
    assert followed(before, stack(edited, C), (1,)) == (), "nothing says that it is the same"


def test_twins_keep_their_places() -> None:
    before = stack(A, A, B)
    assert followed(before, stack(A, A, B, NEW), (0,)) == (0,)
    assert followed(before, before, (0, 1, 2)) == (0, 1, 2)
    assert followed(before, stack(), (0, 1, 2)) == ()


def test_a_moment_follows_the_last_pass_cut_then() -> None:
    before = stack(A, B, C)
    assert moment_followed(before, stack(NEW, A, B, C), 2) == 3
    assert moment_followed(before, stack(A, B, C, NEW), 2) == 2
    assert moment_followed(before, stack(A, C), 2) == 2, "as many as before where it is gone"
    assert moment_followed(before, stack(A), 3) is None
    assert moment_followed(before, stack(NEW, A, B, C), 0) == 0, "the blank stays the blank"
