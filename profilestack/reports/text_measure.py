"""What a measured test cut tells, as a person reads it, in 80 columns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from profilestack.bits.edge import largest_radius
from profilestack.jobs.measure import Measured
from profilestack.planning.check_dimensions import CheckDimension
from profilestack.planning.explaining import Found
from profilestack.reports.layout import columns, fixed, joined, paragraph, plain, shortened
from profilestack.units import to_units


def measure_text(found: Measured, units: str) -> str:
    """The explanation as text."""
    lines = list(paragraph(found.explanation.stack.title or "Untitled stack"))
    lines += summary_lines(found, units)
    lines += ["", *_table(found, units), "", *other_lines(found, units)]
    lines += mixed_lines(found)
    lines += ["", *rest_lines(found, units)]
    return "\n".join(lines)


def summary_lines(found: Measured, units: str) -> Iterator[str]:
    """How far off it was, and how well that is explained."""
    explained = found.explanation
    count = len(explained.points)
    what = f"{count} check dimensions" if found.checks else f"{count} points"
    yield from paragraph(
        f"{what}: {_fine(explained.before, units)} off the section as set (root mean square), "
        f"{_fine(explained.after, units)} off it as explained; taken to be true to "
        f"{_fine(explained.noise, units)}."
    )
    if explained.lay is not None:
        across, up, turn = explained.lay
        yield from paragraph(
            f"Laid over the section: moved {_signed(across, units)} across and "
            f"{_signed(up, units)} {units} up, turned by {turn:.2f} degrees."
        )


def _table(found: Measured, units: str) -> Iterator[str]:
    """Each pass: how far off, give or take, and what to set."""
    explained, corrected = found.explanation, found.corrected
    by_kind = {
        (each.source.kind, place): each for each in explained.found for place in each.source.passes
    }
    rows: list[tuple[str, ...]] = [
        ("", "", "edge to centre", "", "below face", ""),
        ("pass", "bit", f"off by, {units}", "set to", f"off by, {units}", "set to"),
    ]
    for place, single in enumerate(explained.stack.passes):
        if not single.on:
            continue
        now = corrected.passes[place]
        offset, depth = (by_kind[kind, place] for kind in ("offset", "depth"))
        rows.append(
            (str(place + 1), shortened(plain(single.bit), 18), off_text(offset, units),
             fixed_length(now.offset, units), off_text(depth, units),
             fixed_length(now.depth, units))
        )  # fmt: skip
    yield from columns(rows, (-4, 18, -18, -8, -18, -8))
    yield from paragraph(
        "Off by: + is to the right, and deeper. What the points do not tell is in brackets: there "
        "the usual errors speak.",
        "  ",
    )


def off_text(found: Found, units: str) -> str:
    """How far off, give or take; in brackets where the points do not tell it."""
    digits = 2 if units == "mm" else 3
    text = f"{_signed(found.error, units)} +- {fixed(to_units(found.sigma, units), digits)}"
    return text if found.seen else f"({text})"


def other_lines(found: Measured, units: str) -> Iterator[str]:
    """Diameters and wedges."""
    unseen = []
    for each in found.explanation.found:
        if each.source.kind == "diameter":
            bit = found.bits[each.source.bit]
            if not each.seen:
                unseen.append(bit.id)
                continue
            size = 2.0 * largest_radius(bit) + each.error
            yield from paragraph(
                f"{bit.id} is {_fine(size, units)} +- {_fine(each.sigma, units)} across, "
                f"{_signed(each.error, units)} from nominal."
            )
        elif each.source.kind == "wedge":
            told = "" if each.seen else " (hardly told by these points)"
            yield from paragraph(
                f"The wedge of setup {each.source.setup} is {each.error:+.2f} +- {each.sigma:.2f} "
                f"degrees off{told}."
            )
    if unseen:
        yield from paragraph(f"Diameters that these points do not tell: {joined(unseen)}.")


def mixed_lines(found: Measured) -> Iterator[str]:
    """What the points cannot tell apart."""
    groups = [
        joined([found.explanation.found[k].source.words for k in group])
        for group in found.explanation.mixed
    ]
    if groups:
        yield from paragraph(
            f"Cannot be told apart by these points: {'; '.join(groups)}. Each is right only with "
            "the other; measure where one of them shows alone."
        )


def rest_lines(found: Measured, units: str) -> Iterator[str]:
    """Points that nothing explains, and what to do next."""
    explained = found.explanation
    for k in explained.outlying[:5]:
        x, z = explained.points[k].tolist()
        yield from paragraph(
            f"The point at x {fixed_length(x, units)}, z {fixed_length(z, units)} {units} is "
            f"{_fine(abs(explained.distances[k]), units)} off and explained by nothing: dust, a "
            "splinter, a slip of the pen?"
        )
    if len(explained.outlying) > 5:
        yield f"{len(explained.outlying) - 5} more points lie as far off."
    yield from paragraph(
        "Offsets and depths to set hold for the machine as it was measured; the usual errors that "
        "stand behind them are common practice. Make another test cut before the good piece."
    )


def checks_text(checks: Sequence[CheckDimension], units: str) -> str:
    """The numbered check dimensions to measure."""
    if not checks:
        return "Nothing to check: the stack cuts no face that a gauge could read."
    rows: list[tuple[str, ...]] = [("check", "what", f"at, {units}", f"reads, {units}", "passes")]
    for check in checks:
        height = check.kind == "height"
        rows.append(
            (str(check.number),
             "height above the bed" if height else "from the fence edge",
             f"{'x' if height else 'z'} {fixed_length(check.place, units)}",
             fixed_length(check.nominal, units), joined([str(number) for number in check.passes]))
        )  # fmt: skip
    lines = [*paragraph("Where a test cut tells most, of the finished section on its back:"), ""]
    lines += columns(rows, (-5, 22, -10, -10, 12))
    lines += ["", "Write the readings as a table: check,measured_mm, then a line for each."]
    return "\n".join(lines)


def fixed_length(mm: float, units: str) -> str:
    """A length as it is set and read, without its unit."""
    return fixed(to_units(mm, units), 2 if units == "mm" else 3)


def _signed(mm: float, units: str) -> str:
    text = fixed_length(mm, units)
    return text if text.startswith("-") else f"+{text}"


def _fine(mm: float, units: str) -> str:
    return f"{fixed(to_units(mm, units), 3 if units == 'mm' else 4)} {units}"
