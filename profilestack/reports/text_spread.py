"""What ``cut --spread`` tells, as a person reads it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from profilestack.geometry.path import Point
from profilestack.jobs.spread import Spread
from profilestack.planning.spreading import Blame, Share
from profilestack.reports.layout import fixed, joined, paragraph
from profilestack.units import to_units

MOST_TOLD = 3
"""So many passes and errors are named."""

LOW = 0.005
"""Nobody asks where less than this is [mm]."""

LEAST = 0.03
"""An error that explains less is lost in what chance shows, and not named."""


def spread_lines(spread: Spread, units: str) -> Iterator[str]:
    """The spread in lines of 80 columns."""
    yield f"  As made, with usual errors ({spread.cuts} trial cuts):"
    for word, (half, most), at in (
        ("leftover", spread.leftover, spread.leftover_at),
        ("overcut", spread.overcut, spread.overcut_at),
    ):
        yield (
            f"    {word:<8}  half within {fine_length(half, units)}, 95 in 100 within "
            f"{fine_length(most, units)}"
        )
        if at is not None and most > LOW:
            yield f"              worst then at {_place(at, units)}"
    yield f"    Both tolerances hold in {_hundred(spread.within)} of 100 cuts."
    yield from standing_lines(spread)
    yield from pass_lines(spread)
    yield from error_lines(spread)
    yield from assumed_lines(spread, units)


def standing_lines(spread: Spread) -> Iterator[str]:
    """Where waste is left standing."""
    if spread.standing >= 0.01:
        yield from paragraph(
            f"In {_hundred(spread.standing)} of 100 cuts more than 1 mm of waste is left standing, "
            "where two cuts no longer meet: let them overlap more there.",
            "    ",
        )


def assumed_lines(spread: Spread, units: str) -> Iterator[str]:
    """Which errors are usual."""
    errors = spread.errors
    touch_off, edge_zero, single, mean, give, blank = (
        fine_length(each, units)
        for each in (
            errors.touch_off, errors.edge_zero, errors.single_cut, errors.bit_mean,
            errors.bit_spread, errors.blank,
        )
    )  # fmt: skip
    yield from paragraph(
        "Usual errors are assumptions from common practice (standard deviations): touch-off of "
        f"each bit and setup {touch_off}, edge zero {edge_zero}, each cut {single}, bits "
        f"{mean} +- {give} all over, the blank laid anew {blank}, a wedge {errors.wedge:g} "
        "degrees. Judge your own by a test cut.",
        "    ",
    )


def pass_lines(spread: Spread) -> Iterator[str]:
    """Which passes are most often the worst."""
    said = []
    for verb, key in (("gouges deepest", "overcut"), ("leaves most", "leftover")):
        blames = sorted(spread.blames, key=lambda blame: -_part(blame, key))
        told = [blame for blame in blames[:MOST_TOLD] if _part(blame, key) >= 0.05]
        parts = [f"pass {blame.number} in {_hundred(_part(blame, key))}" for blame in told]
        if parts:
            said.append(f"{verb}: {joined(parts)}")
    if said:
        yield from paragraph(f"Of 100 cuts, {'; '.join(said)}.", "    ")


def error_lines(spread: Spread) -> Iterator[str]:
    """Which errors the spread comes from."""
    for word, share_of in (("overcut", _overcut), ("leftover", _leftover)):
        yield from _errors(word, spread.shares, share_of)


def _errors(
    word: str, shares: Sequence[Share], share_of: Callable[[Share], float]
) -> Iterator[str]:
    ordered = sorted(shares, key=lambda share: -share_of(share))
    told = [share for share in ordered[:MOST_TOLD] if share_of(share) >= LEAST]
    if told:
        parts = [f"{share.source.words} ({_hundred(share_of(share))} %)" for share in told]
        yield from paragraph(f"The {word} spreads most by: {'; '.join(parts)}.", "    ")


def _part(blame: Blame, key: str) -> float:
    return blame.overcut if key == "overcut" else blame.leftover


def _overcut(share: Share) -> float:
    return share.overcut


def _leftover(share: Share) -> float:
    return share.leftover


def _hundred(share: float) -> str:
    return fixed(100.0 * share, 0)


def _place(at: Point, units: str) -> str:
    digits = 2 if units == "mm" else 3
    x, z = (fixed(to_units(value, units), digits) for value in at)
    return f"x {x}, z {z} {units}"


def fine_length(mm: float, units: str) -> str:
    """A length with a digit more than a machine is set by."""
    return f"{fixed(to_units(mm, units), 3 if units == 'mm' else 4)} {units}"
