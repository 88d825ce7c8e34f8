"""docs/validation.md is what the checks say today."""

from __future__ import annotations

from tests.validation.page import PAGE, got_on, page
from tests.validation.tables import CHECKS


def test_the_committed_page_is_made_from_these_checks() -> None:
    text = PAGE.read_text(encoding="utf-8")
    shown = got_on(text)
    assert len(shown) == len(CHECKS)
    # another machine may differ in the last figures: these are compared by their tolerance
    assert page(shown) == text, "run: python -m tests.validation.page"
    for check, got in zip(CHECKS, shown, strict=True):
        assert abs(got - check.measure()) <= check.tolerance + 1e-12, check.name


def test_every_check_has_source_and_reason_and_its_own_name() -> None:
    assert len(CHECKS) >= 25
    assert len({(check.name, check.unit) for check in CHECKS}) == len(CHECKS)
    for check in CHECKS:
        assert check.source, check.name
        assert check.reason, check.name
        assert "|" not in check.what + check.source + check.reason, check.name
