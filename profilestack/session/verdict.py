"""The numbers that matter: does it fit, what is dangerous, what does it take."""

from __future__ import annotations

from dataclasses import dataclass

from profilestack.cutting.cautions.fit import TELLING
from profilestack.cutting.comparison import Comparison
from profilestack.geometry.path import Point
from profilestack.jobs.cut import CutReport
from profilestack.planning.minutes import Minutes
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS, Shop
from profilestack.stack import Tolerance
from profilestack.units import to_units

DIGITS = {"mm": 2, "in": 3}
MOST_DIGITS = 5


@dataclass(frozen=True, slots=True)
class Figure:
    """A number that matters: its name, the number with its unit, and what it is measured by.

    ``holds``: whether it is within tolerance; None where it has none. ``about`` says more.
    """

    name: str
    text: str
    beside: str = ""
    holds: bool | None = None
    about: str = ""


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether it fits (None: nothing to compare with), in words, and the stops among cautions."""

    fits: bool | None
    words: str
    stops: int


def verdict_of(report: CutReport, units: str) -> Verdict:
    """The first thing to say of a cut stack."""
    stops = sum(caution.severity == "stop" for caution in report.cautions)
    comparison, tolerance = report.comparison, report.stack.tolerance
    if comparison is None:
        return Verdict(None, "No wanted profile: nothing to compare with.", stops)
    if not report.cut.passes:
        return Verdict(False, "Nothing is cut yet.", stops)
    broken = []
    for word, worst, allowed in _sides(comparison, tolerance):
        if worst > allowed:
            said, limit = _told_apart(worst, allowed, units)
            broken.append(f"{word} {said}, {limit} allowed")
    if broken:
        return Verdict(False, f"It does not fit: {'; '.join(broken)}.", stops)
    return Verdict(True, "It fits.", stops)


def figures_of(
    report: CutReport, units: str, minutes: Minutes | None, shop: Shop = USUAL_SHOP
) -> tuple[Figure, ...]:
    """Leftover, overcut, bits, passes, minutes; ``minutes`` is None while they are worked out."""
    cut = report.cut
    bits = len({single.bit.id for single in cut.passes})
    off = len(report.stack.passes) - len(cut.passes)
    pieces = report.stack.run.pieces
    many = f"{pieces} pieces" if pieces > 1 else ""
    if not cut.passes:  # what is not cut would all be sanded away
        minutes = None
    return (
        *_fit_figures(report, units),
        Figure("bits", str(bits), about="Different bits that are switched on."),
        Figure("passes", str(len(cut.passes)), f"{off} off" if off else "",
               about="Passes that are switched on."),
        Figure(
            "minutes",
            "–" if minutes is None else f"≈ {minutes.total:.0f} min",
            _mostly(minutes) or many,
            about="" if minutes is None else minutes_about(minutes, shop),
        ),
    )  # fmt: skip


def unreached_place(report: CutReport) -> Point | None:
    """The place of the profile [mm] that is farthest from the cut, where ridges tell less."""
    comparison = report.comparison
    if comparison is None or not report.cut.passes:
        return None
    far = comparison.unreached_max
    return comparison.unreached_at if far > comparison.leftover.max + TELLING else None


def minutes_about(minutes: Minutes, shop: Shop = USUAL_SHOP) -> str:
    """What the minutes go into, and the figures that are assumed."""
    return (
        "A first reckoning, for comparing ways. The plan (panel Machine) counts each depth and "
        "the changes of its own order, and comes to other minutes.\n"
        f"Changing bits {minutes.changes:.0f} min, setting up {minutes.setups:.0f} min, "
        f"cutting {minutes.cutting:.0f} min, sanding {minutes.sanding:.0f} min, for all pieces.\n"
        f"{_assumed(shop)}: a bit change "
        f"{shop.change:g} min, putting a piece back {shop.refix:g} min, another setup "
        f"{shop.setup_once:g} min and {shop.setup_piece:g} min a piece, a wedge {shop.wedge:g} "
        f"min, a test piece {shop.test:g} min, feed {shop.finish_feed / 1000:g} m/min "
        f"(rough out {shop.rough_feed / 1000:g}), sanding {shop.sanding:g} min a metre and "
        f"{shop.sanding_area:g} min for each mm² that stands."
    )


def _mostly(minutes: Minutes | None) -> str:
    """What more than half of the minutes go into, where that is what a better cut would save."""
    return "mostly sanding" if minutes is not None and 2.0 * minutes.sanding > minutes.total else ""


def _assumed(shop: Shop) -> str:
    """Whose figures they are."""
    if shop == USUAL_SHOPS[shop.machine.kind]:
        return f"Assumed (common practice for a {shop.machine.called})"
    return f"Reckoned with the figures of {shop.name or 'your shop file'}"


def _fit_figures(report: CutReport, units: str) -> tuple[Figure, Figure]:
    comparison, tolerance = report.comparison, report.stack.tolerance
    if comparison is None:
        about = "There is no wanted profile to compare with."
        return (
            Figure("leftover (proud)", "–", about=about),
            Figure("overcut (gouge)", "–", about=about),
        )
    figures = []
    for (name, worst, allowed), sign in zip(_sides(comparison, tolerance), "+−", strict=True):
        if not report.cut.passes and sign == "+":
            worst = comparison.leftover.max  # how far the nearest cut is has no meaning as yet
        said, limit = _told_apart(worst, allowed, units)
        zero = not any(digit in said for digit in "123456789")
        side = comparison.leftover if sign == "+" else comparison.overcut
        other = comparison.unreached_max if sign == "+" else comparison.missing_max
        what = "not reached" if sign == "+" else "cut away whole"
        about = (
            f"Worst in the section {_fine(side.max, units)}, {what} {_fine(other, units)}, "
            f"{limit} allowed; rms {_fine(side.rms, units)}."
        )
        text = said if zero else f"{sign}{said}"
        # what is not reached may be farther off than what stands is high
        by_other = report.cut.passes and said == _fine(other, units) != _fine(side.max, units)
        beside = f"{what}; {limit} allowed" if by_other else f"{limit} allowed"
        figures.append(Figure(name, text, beside, worst <= allowed, about))
    return figures[0], figures[1]


def _sides(comparison: Comparison, tolerance: Tolerance) -> tuple[tuple[str, float, float], ...]:
    return (
        ("leftover (proud)", comparison.leftover_worst, tolerance.leftover),
        ("overcut (gouge)", comparison.overcut_worst, tolerance.overcut),
    )


def _told_apart(worst: float, allowed: float, units: str) -> tuple[str, str]:
    """Both with as many digits as it takes to see which one is more."""
    for digits in range(DIGITS[units], MOST_DIGITS + 1):
        said, limit = _fine(worst, units, digits), _fine(allowed, units, digits)
        if said != limit or worst <= allowed:
            break
    return said, limit


def _fine(mm: float, units: str, digits: int | None = None) -> str:
    places = DIGITS[units] if digits is None else digits
    return f"{to_units(mm, units):.{places}f} {units}"
