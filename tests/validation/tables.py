"""All tables of checks, in the order of the page."""

from __future__ import annotations

from tests.validation import (
    ball_rows,
    classical,
    corners,
    exported,
    measured_cuts,
    planned_steps,
    scallops,
    shop_figures,
    single_cuts,
    volumes,
)
from tests.validation.check import Check

CHECKS: tuple[Check, ...] = (
    *single_cuts.CHECKS,
    *corners.CHECKS,
    *scallops.CHECKS,
    *volumes.CHECKS,
    *classical.CHECKS,
    *shop_figures.CHECKS,
    *planned_steps.CHECKS,
    *exported.CHECKS,
    *ball_rows.CHECKS,
    *measured_cuts.CHECKS,
)
