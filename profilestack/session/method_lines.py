"""Ways of making a molding as lines over the length made: minutes or cost, and where they cross."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from profilestack.jobs.methods import MethodsReport
from profilestack.jobs.methods_chart import NAMES
from profilestack.planning.methods import Method
from profilestack.planning.minutes import length_of_travel
from profilestack.planning.work import break_even
from profilestack.reports.layout import fixed
from profilestack.reports.text_methods import (
    about_lines,
    break_even_lines,
    hidden_lines,
    long_length,
    ratio_lines,
    run_length,
)
from profilestack.session.page_row import PageRow
from profilestack.session.plan_words import unwrapped
from profilestack.units import to_units

Quantity = Literal["cost", "minutes"]

MOST_POINTS = 80
"""A line has so many points at most."""

BEYOND = 1.25
"""The chart goes on beyond the last thing to be seen by this factor."""

FAR = 8.0
"""Break-even lengths beyond so many batches are told in words alone."""

HEADS = ("pieces", "min", "bits", "setups", "cutting", "sanding", "cost")
"""The columns of a way's minutes."""

ASSUMED = (
    "Minutes, feeds, prices and the rate are the shop's figures: assumptions where no shop file "
    "says otherwise (common practice, from memory). The page Shop tells each with its source. "
    "Cutters, knives and machines differ: the maker's marks, local rules and a qualified operator "
    "come first."
)


@dataclass(frozen=True, slots=True)
class MethodLine:
    """One way: ``points`` are pieces and the minutes or the cost of so many."""

    name: str
    called: str
    points: tuple[tuple[float, float], ...]

    def at(self, pieces: float) -> float:
        """Its minutes or cost, between points as on the line."""
        for (low, before), (high, after) in itertools.pairwise(self.points):
            if low <= pieces <= high:
                return before + (after - before) * (pieces - low) / (high - low)
        return self.points[-1][1]


@dataclass(frozen=True, slots=True)
class Crossing:
    """From ``pieces`` on ``less`` takes less than ``more``; ``said`` is the length in words."""

    pieces: float
    value: float
    less: str
    more: str
    said: str


@dataclass(frozen=True, slots=True)
class MethodsPlot:
    """The lines of a chart, from one piece to ``most`` pieces; ``batch`` are those of the run.

    ``piece_length`` is in metres or feet, as ``long_unit`` says.
    """

    quantity: Quantity
    lines: tuple[MethodLine, ...]
    crossings: tuple[Crossing, ...]
    batch: int
    most: int
    piece_length: float
    long_unit: str


def methods_plot(report: MethodsReport, quantity: Quantity, units: str) -> MethodsPlot:
    """The ways that can be, over the number of pieces."""
    stack = report.stack
    length, batch = length_of_travel(stack), stack.run.pieces
    able = [method for method in report.methods.methods if method.is_possible]
    most = max(2, round(BEYOND * batch))
    for one, other in itertools.permutations(able, 2):
        even = break_even(one.work, other.work, stack, report.methods.plan.shop)
        if even is not None and even / length <= FAR * batch:
            most = max(most, round(BEYOND * even / length + 0.5))
    lines = tuple(_line(report, method, quantity, most) for method in able)
    return MethodsPlot(
        quantity,
        lines,
        tuple(_crossings(lines, length, units)),
        batch,
        most,
        long_length(length, units),
        "m" if units == "mm" else "ft",
    )


def _line(report: MethodsReport, method: Method, quantity: Quantity, most: int) -> MethodLine:
    step = max(1, most // MOST_POINTS)
    # the first pieces count singly: bits are changed otherwise there
    counts = sorted({1, 2, 3, 4, report.stack.run.pieces, *range(1, most + 1, step), most})
    points = tuple(
        (float(pieces), _value(report, method, quantity, pieces))
        for pieces in counts
        if pieces <= most
    )
    return MethodLine(method.name, NAMES[method.name], points)


def _value(report: MethodsReport, method: Method, quantity: Quantity, pieces: int) -> float:
    shop, stack = report.methods.plan.shop, report.stack
    if quantity == "cost":
        return method.work.cost(stack, shop, pieces)
    return method.work.parts(stack, shop, pieces).total


def _crossings(lines: tuple[MethodLine, ...], length: float, units: str) -> Iterator[Crossing]:
    """Where one line goes below another."""
    for one, other in itertools.combinations(lines, 2):
        gaps = [
            (pieces, mine - theirs)
            for (pieces, mine), (_, theirs) in zip(one.points, other.points, strict=True)
        ]
        for (low, before), (high, after) in itertools.pairwise(gaps):
            if before * after < 0.0:
                pieces = low + (high - low) * before / (before - after)
                less, more = (one, other) if after < 0.0 else (other, one)
                said = run_length(pieces * length, units)
                yield Crossing(pieces, one.at(pieces), less.called, more.called, said)


def plot_said(plot: MethodsPlot) -> str:
    """What the chart shows, for those who do not see it."""
    what = "minutes" if plot.quantity == "minutes" else "cost"
    told = [
        f"{line.called}: {what} {line.at(1.0):.0f} for one piece, "
        f"{line.at(float(plot.batch)):.0f} for {plot.batch}"
        for line in plot.lines
    ]
    told += [f"from {each.said} on {each.less} below {each.more}" for each in plot.crossings]
    return "; ".join(told)


def methods_rows(report: MethodsReport, units: str) -> tuple[PageRow, ...]:
    """Each way with its minutes and cost; break-even lengths; the ratio; what is assumed."""
    rows = [_row(report, method, units) for method in report.methods.methods]
    rows.append(PageRow("said", "Which costs less", unwrapped(break_even_lines(report, units))))
    if report.ratios is not None:
        told = unwrapped(ratio_lines(report, report.ratios, units))
        rows.append(PageRow("said", "3D beside stacked bits", told))
    if hidden := unwrapped(hidden_lines(report, units)):
        rows.append(PageRow("said", "Not seen from above", hidden))
    return (*rows, PageRow("said", "Assumed", ASSUMED))


def _row(report: MethodsReport, method: Method, units: str) -> PageRow:
    name = NAMES[method.name]
    words = unwrapped(about_lines(report, method, units, finder="Ways to cut it"))
    words = words.partition(": ")[2]
    if not method.is_possible:
        return PageRow("said", name, words)
    stack, shop = report.stack, report.methods.plan.shop
    batch = stack.run.pieces
    ridge = fixed(to_units(method.ridge_max, units), 2 if units == "mm" else 3)
    lines = []
    for pieces in (1, batch) if batch > 1 else (1,):
        parts = method.work.parts(stack, shop, pieces)
        minutes = (parts.total, parts.changes, parts.setups, parts.cutting, parts.sanding)
        cost = method.work.cost(stack, shop, pieces)
        lines.append((str(pieces), *(fixed(each, 0) for each in (*minutes, cost))))
    per = long_length(batch * length_of_travel(stack), units)
    cost = method.work.cost(stack, shop, batch) / per
    head = (
        f"{name}: {fixed(cost, 1)} a {'metre' if units == 'mm' else 'foot'}, ridge {ridge} {units}"
    )
    columns = tuple((name, "") for name in HEADS)
    return PageRow("said", head, words, tuple(lines), columns=columns, names_columns=True)
