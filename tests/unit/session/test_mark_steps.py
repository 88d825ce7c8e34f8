from __future__ import annotations

from profilestack.session.mark_steps import MarkSteps, Said

NONE: Said = (None, None)
ONE: Said = (1.0, None)
TWO: Said = (1.0, 2.0)
THREE: Said = (3.0, 2.0)


def test_steps_are_taken_back_and_done_again_one_by_one() -> None:
    steps = MarkSteps(NONE)
    steps.change(ONE)
    steps.change(TWO)
    assert steps.take_back() == ONE
    assert steps.take_back() == NONE
    assert steps.take_back() is None
    assert steps.do_again() == ONE
    assert steps.do_again() == TWO
    assert steps.do_again() is None


def test_a_run_is_one_step_and_another_run_a_second_one() -> None:
    steps = MarkSteps(NONE)
    for said in (ONE, TWO):
        steps.change(said, "hand 1")
    steps.change(THREE, "hand 2")
    assert steps.take_back() == TWO
    assert steps.take_back() == NONE


def test_a_run_does_not_go_on_after_a_step_was_taken_back() -> None:
    steps = MarkSteps(NONE)
    steps.change(ONE, "hand 1")
    assert steps.take_back() == NONE
    steps.change(TWO, "hand 1")
    steps.change(THREE, "hand 1")
    assert steps.do_again() is None
    assert steps.take_back() == NONE


def test_a_run_that_leads_back_is_no_step() -> None:
    steps = MarkSteps(NONE)
    steps.change(ONE)
    steps.change(TWO, "hand 1")
    steps.change(ONE, "hand 1")
    assert steps.take_back() == NONE


def test_what_changes_nothing_is_no_step() -> None:
    steps = MarkSteps(ONE)
    steps.change(ONE)
    assert steps.take_back() is None
