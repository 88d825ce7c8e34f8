"""The job of drawing ways of making one molding as a chart."""

from __future__ import annotations

from pathlib import Path

from profilestack.drawing.drawing import Drawing
from profilestack.drawing.methods_chart import Bar, methods_chart
from profilestack.drawing.picture import picture_bytes
from profilestack.drawing.wording import title_of
from profilestack.files.saving import save_bytes
from profilestack.jobs.methods import MethodsReport
from profilestack.jobs.picture import WrittenPicture, kind_of
from profilestack.planning.methods import Method
from profilestack.planning.minutes import length_of_travel
from profilestack.planning.plan import PlanMinutes
from profilestack.units import format_length, to_units

NAMES = {
    "stacked": "Stacked bits",
    "ball-nose": "3D ball-nose",
    "made-to-order": "Made-to-order cutter",
    "hybrid": "Stacked, ball for the rest",
}


def write_chart(report: MethodsReport, path: Path, units: str) -> WrittenPicture:
    """Draw the chart and save it, whole or not at all; the suffix says what kind of file.

    Raises:
        InputError: a suffix that is no kind of picture.
        FileError: it could not be saved.
    """
    kind = kind_of(path)
    drawing = chart_of(report, units)
    data = picture_bytes(drawing, kind)
    save_bytes(path, data, keeps_former=False)
    return WrittenPicture(path, kind, drawing.width, drawing.height, len(data))


def chart_of(report: MethodsReport, units: str) -> Drawing:
    """The chart of a comparison; ``units`` are "mm" or "in"."""
    stack, shop = report.stack, report.methods.plan.shop
    about = (
        f"{format_length(length_of_travel(stack), units)} a piece; {shop.machine.called}; "
        f"{shop.rate:g} an hour"
    )
    if report.ratios is not None:
        about += f"; 3D to stacked bits {report.ratios.batch:.1f} (machine minutes, all pieces)"
    bars = [_bar(report, method, units) for method in report.methods.methods]
    return methods_chart(title_of(stack), about, stack.run.pieces, bars)


def _bar(report: MethodsReport, method: Method, units: str) -> Bar:
    name = NAMES[method.name]
    if not method.is_possible:
        return Bar(name, None, None, method.trouble, method.trouble)
    stack, shop = report.stack, report.methods.plan.shop
    long = to_units(length_of_travel(stack), units) / (1000.0 if units == "mm" else 12.0)
    one, batch = (method.work.parts(stack, shop, pieces) for pieces in (1, stack.run.pieces))
    costs = [method.work.cost(stack, shop, pieces) / pieces for pieces in (1, stack.run.pieces)]
    per = "m" if units == "mm" else "ft"
    return Bar(
        name,
        _each(one, 1),
        _each(batch, stack.run.pieces),
        f"{one.total:.0f} min, cost {costs[0] / long:.0f} a {per}",
        f"{batch.total / stack.run.pieces:.0f} min, cost {costs[1] / long:.0f} a {per}",
    )


def _each(parts: PlanMinutes, pieces: int) -> tuple[float, float, float, float]:
    return (
        parts.changes / pieces,
        parts.setups / pieces,
        parts.cutting / pieces,
        parts.sanding / pieces,
    )
