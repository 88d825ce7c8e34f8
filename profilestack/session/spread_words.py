"""How far the fit spreads with usual errors, in the words of a list."""

from __future__ import annotations

from collections.abc import Iterator

from profilestack.jobs.spread import Spread
from profilestack.planning.spreading import Blame
from profilestack.reports.layout import fixed
from profilestack.reports.text_spread import (
    LOW,
    assumed_lines,
    error_lines,
    fine_length,
    standing_lines,
)
from profilestack.session.page_row import PageRow
from profilestack.session.plan_words import unwrapped
from profilestack.units import to_units

OFTEN = 0.05
"""A pass that is the worst in fewer cuts is not named."""


def spread_summary(spread: Spread, units: str) -> str:
    """Overcut and leftover, as they are with usual errors."""
    told = "; ".join(
        f"{word} {fine_length(half, units)} median, "
        f"{fine_length(most, units).removesuffix(f' {units}')} in 95 of 100"
        for word, (half, most) in (("overcut", spread.overcut), ("leftover", spread.leftover))
    )
    return f"With the shop's usual errors: {told}."


def spread_rows(spread: Spread, units: str) -> tuple[PageRow, ...]:
    """Tolerances, the passes that matter most, the errors that matter most, assumptions."""
    within = f"Both tolerances hold in {_hundred(spread.within)} of 100 cuts"
    worst = " ".join(
        f"{word} is worst then at {_place(at, units)}."
        for word, (_, most), at in (
            ("Overcut", spread.overcut, spread.overcut_at),
            ("Leftover", spread.leftover, spread.leftover_at),
        )
        if at is not None and most > LOW
    )
    return (
        PageRow("said", within, " ".join(filter(None, (worst, unwrapped(standing_lines(spread)))))),
        *_passes(spread),
        PageRow("said", "Which errors it comes from", unwrapped(error_lines(spread))),
        PageRow("said", "Assumed", unwrapped(assumed_lines(spread, units))),
    )


def _passes(spread: Spread) -> Iterator[PageRow]:
    """Those that are often the worst, the one that matters most first."""
    told = [blame for blame in spread.blames if max(blame.overcut, blame.leftover) >= OFTEN]
    for place, blame in enumerate(sorted(told, key=_weight, reverse=True)):
        head = f"Pass {blame.number}{' matters most' if place == 0 else ''}"
        parts = [
            f"{verb} in {_hundred(share)} of 100 cuts"
            for verb, share in (("gouges deepest", blame.overcut), ("leaves most", blame.leftover))
            if share >= OFTEN
        ]
        yield PageRow("pass", head, "; ".join(parts), place=blame.number - 1)


def _weight(blame: Blame) -> float:
    """A gouge cannot be sanded away: it counts first."""
    return blame.overcut + 0.001 * blame.leftover


def _hundred(share: float) -> str:
    return fixed(100.0 * share, 0)


def _place(at: tuple[float, float], units: str) -> str:
    digits = 2 if units == "mm" else 3
    x, z = (fixed(to_units(value, units), digits) for value in at)
    return f"x {x}, z {z} {units}"
