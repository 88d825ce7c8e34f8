"""Every value from outside the project, against what the project makes of it."""

from __future__ import annotations

import pytest

from tests.validation.check import Check, rounds_to
from tests.validation.tables import CHECKS


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.name)
def test_the_value_from_outside_is_met(check: Check) -> None:
    assert abs(check.measure() - check.expected) <= check.tolerance, check.reason


@pytest.mark.parametrize(
    "check", [check for check in CHECKS if check.printed], ids=lambda check: check.name
)
def test_the_formula_gives_the_printed_figure(check: Check) -> None:
    assert rounds_to(check.expected, check.printed)
