"""Edits of passes by hand: what they change, what they leave, what Undo will call them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from profilestack.errors import InputError
from profilestack.session import pass_edits
from profilestack.stack import Pass, Setup, Stack, StraightRun
from tests.shop import board, straight

SETUPS = (Setup("edge", 90.0), Setup("tipped", 30.0), Setup("flutes", 0.0, 4))


def stack_with(*passes: Pass) -> Stack:
    return Stack(board(60.0, 30.0), StraightRun(1000.0), setups=SETUPS, passes=passes)


def lettered(letters: str) -> Stack:
    """One pass a letter, told apart by its note."""
    return stack_with(*(Pass("b", 10.0, 5.0, note=letter) for letter in letters))


def letters_of(stack: Stack) -> str:
    return "".join(single.note for single in stack.passes)


lengths = st.integers(-90_000_000, 90_000_000).map(lambda n: n / 1e6)
passes = st.builds(
    Pass,
    bit=st.sampled_from(["a", "b"]),
    offset=lengths,
    depth=st.integers(1, 50_000_000).map(lambda n: n / 1e6),
    setup=st.sampled_from(["face", "edge", "flutes"]),
    count=st.integers(1, 3),
    pitch=lengths.filter(bool),
)
stacks = st.lists(passes, max_size=6).map(lambda found: stack_with(*found))
chosen = st.sets(st.integers(0, 6))


@given(stacks, chosen)
def test_mirrored_twice_is_nothing(stack: Stack, indices: set[int]) -> None:
    once, label = pass_edits.mirrored(stack, indices)
    twice, _ = pass_edits.mirrored(once, indices)
    assert twice == stack
    assert label.startswith("Mirror")


@pytest.mark.parametrize(
    ("setup", "mirrored"),
    # the box of the board, 60 x 30, is 30 wide on edge; tipped by 30: 60 cos 30 + 30 sin 30
    [("face", 50.0), ("edge", 20.0), ("tipped", 60.0 * 3.0**0.5 / 2.0 + 15.0 - 10.0)],
)
def test_mirroring_is_about_the_middle_of_the_blank_as_it_lies(setup: str, mirrored: float) -> None:
    stack = stack_with(Pass("b", 10.0, 5.0, setup))
    done, label = pass_edits.mirrored(stack, [0])
    assert done.passes[0].offset == pytest.approx(mirrored, abs=1e-9)
    assert replace(done.passes[0], offset=10.0) == stack.passes[0]
    assert label == "Mirror pass 1"


def test_repeats_are_mirrored_with_their_pass() -> None:
    done, _ = pass_edits.mirrored(stack_with(Pass("b", 10.0, 5.0, count=3, pitch=8.0)), [0])
    (single,) = done.passes
    places = sorted(single.offset + k * single.pitch for k in range(3))
    assert places == [60.0 - 26.0, 60.0 - 18.0, 60.0 - 10.0]


@given(stacks, chosen)
def test_duplicates_are_where_they_are_said_to_be(stack: Stack, indices: set[int]) -> None:
    there = {index for index in indices if index < len(stack.passes)}
    done, _ = pass_edits.duplicated(stack, indices)
    places = pass_edits.places_of_duplicates(there)
    assert [done.passes[place] for place in places] == [stack.passes[i] for i in sorted(there)]
    assert pass_edits.deleted(done, places)[0] == stack


@given(st.integers(0, 7), st.sets(st.integers(0, 6)), st.integers(0, 7))
def test_moved_passes_are_where_they_are_said_to_be(count: int, indices: set[int], to: int) -> None:
    stack = lettered("abcdefg"[:count])
    there = {index for index in indices if index < count}
    to = min(to, count)
    done, _ = pass_edits.moved_to_place(stack, there, to)
    places = pass_edits.places_after_move(there, to)
    letters = letters_of(stack)
    assert [letters_of(done)[place] for place in places] == [letters[i] for i in sorted(there)]
    assert sorted(letters_of(done)) == sorted(letters)


@given(st.integers(0, 7), st.sets(st.integers(0, 6)), st.booleans())
def test_shifted_passes_are_where_they_are_said_to_be(
    count: int, indices: set[int], later: bool
) -> None:
    stack = lettered("abcdefg"[:count])
    there = {index for index in indices if index < count}
    shift = pass_edits.moved_later if later else pass_edits.moved_earlier
    done, _ = shift(stack, there)
    places = pass_edits.places_after_shift(count, there, later)
    letters = letters_of(stack)
    assert [letters_of(done)[place] for place in places] == [letters[i] for i in sorted(there)]
    for before, after in zip(sorted(there), places, strict=True):
        assert after - before in ((0, 1) if later else (-1, 0))


@pytest.mark.parametrize(
    ("chosen", "earlier", "later"),
    [
        ([0], "abcde", "bacde"),
        ([2], "acbde", "abdce"),
        ([4], "abced", "abcde"),
        ([1, 3], "badce", "acbed"),
        ([0, 1, 3], "abdce", "cabed"),
        ([], "abcde", "abcde"),
    ],
)
def test_each_goes_one_place_as_far_as_there_is_room(
    chosen: list[int], earlier: str, later: str
) -> None:
    stack = lettered("abcde")
    assert letters_of(pass_edits.moved_earlier(stack, chosen)[0]) == earlier
    assert letters_of(pass_edits.moved_later(stack, chosen)[0]) == later


def test_switching_goes_off_first_and_on_when_all_are_off() -> None:
    stack = lettered("abc")
    half, label = pass_edits.switched(stack, [0])
    assert (label, [single.on for single in half.passes]) == (
        "Switch pass 1 off",
        [False, True, True],
    )
    off, label = pass_edits.switched(half, [0, 1])
    assert (label, off.passes[1].on) == ("Switch passes 1 and 2 off", False)
    on, label = pass_edits.switched(off, [0, 1])
    assert (label, on) == ("Switch passes 1 and 2 on", stack)
    assert pass_edits.switched(stack, [2], on=True)[0] == stack


def test_nudging_moves_both_numbers_and_gathers_no_dust() -> None:
    stack = lettered("ab")
    for _ in range(10):
        stack, label = pass_edits.nudged(stack, [1], 0.1, -0.1)
    assert (stack.passes[1].offset, stack.passes[1].depth) == (11.0, 4.0)
    assert label == "Move pass 2"
    assert stack.passes[0] == lettered("ab").passes[0]


def test_a_depth_must_stay_above_nothing() -> None:
    with pytest.raises(InputError, match="depth"):
        pass_edits.nudged(lettered("a"), [0], 0.0, -5.0)
    with pytest.raises(InputError, match="depth"):
        pass_edits.with_depth(lettered("a"), [0], -1.0)


def test_typed_values_go_to_all_that_are_chosen() -> None:
    stack = lettered("abc")
    for edited, key, value, label in (
        (pass_edits.with_offset(stack, [0, 2], 33.0), "offset", 33.0, "Change the offset of"),
        (pass_edits.with_depth(stack, [0, 2], 7.0), "depth", 7.0, "Change the depth of"),
        (pass_edits.with_setup(stack, [0, 2], "edge"), "setup", "edge", "Change the setup of"),
        (pass_edits.with_note(stack, [0, 2], "cove"), "note", "cove", "Change the note of"),
    ):
        done, said = edited
        assert [getattr(done.passes[place], key) for place in (0, 2)] == [value, value]
        assert done.passes[1] == stack.passes[1]
        assert said == f"{label} passes 1 and 3"
    rough, said = pass_edits.with_relief(stack, [1], True)
    assert (rough.passes[1].relief, said) == (True, "Make pass 2 rough out")


def test_an_unknown_setup_is_refused() -> None:
    with pytest.raises(InputError, match="no setup is called 'egde'"):
        pass_edits.with_setup(lettered("a"), [0], "egde")


def test_another_bit_is_carried_when_asked_and_only_once() -> None:
    stack, new = lettered("ab"), straight(12.0)
    plain, label = pass_edits.with_bit(stack, [1], new)
    assert (plain.passes[1].bit, plain.bits, label) == (new.id, (), "Change the bit of pass 2")
    carried, _ = pass_edits.with_bit(stack, [0, 1], new, carried=True)
    assert carried.bits == (new,)
    own = replace(new, shank=8.0)
    assert pass_edits.with_bits_carried(carried, [own]).bits == (new,)


@pytest.mark.parametrize(
    ("indices", "words"),
    [
        ([], "0 passes"),
        ([4], "pass 5"),
        ([4, 0, 4], "passes 1 and 5"),
        ([2, 1, 0], "passes 1, 2 and 3"),
        (range(4), "4 passes"),
    ],
)
def test_passes_are_spoken_of_by_their_numbers(indices: list[int], words: str) -> None:
    assert pass_edits.named(indices) == words


def test_steps_of_the_keys() -> None:
    assert pass_edits.nudge_step("mm") == 0.1
    assert pass_edits.nudge_step("in") == pytest.approx(0.127)
