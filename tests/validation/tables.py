"""All tables of checks, in the order of the page."""

from __future__ import annotations

from tests.validation import single_cuts
from tests.validation.check import Check

CHECKS: tuple[Check, ...] = (*single_cuts.CHECKS,)
