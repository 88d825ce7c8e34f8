"""Writes docs/validation.md from the checks: ``python -m tests.validation.page``."""

from __future__ import annotations

import itertools
import math
import pathlib
from collections.abc import Iterable

from tests.validation.check import Check
from tests.validation.tables import CHECKS

PAGE = pathlib.Path(__file__).parents[2] / "docs" / "validation.md"

HEAD = f"""# Validation

What the project computes, beside values that come from outside it: published figures and closed
forms. This page is made from `tests/validation` by `python -m tests.validation.page`; a test
keeps it up to date. Arcs are flattened at 0.00001 mm here, so that a closed form can be met.

The mark after a source says how it is known: **read**, its text was read; **computed**, the value
follows from the formula; **secondary**, it stands in a copy or a general guide and is common
practice; **memory**, unverified. Every check must lie within its tolerance. {len(CHECKS)} checks:
"""

TAIL = """
## Beside the table

Two further routes to the same figures are walked by tests on random stacks, always the same ones:

- Another polygon engine (`tests/validation/test_referee.py`): pyclipper cuts 200 random stacks of
  all bit shapes, with turned setups, copies and repeats; the section areas agree within
  0.0001 mm2 at the same chord error.
- Plain sampling (`tests/validation/test_second_route.py`): the leftover's and the overcut's
  largest distances, the largest unreached and the largest missing one, by dense points and plain
  point-to-line distances; they agree within 0.002 mm.

And one profile that is known by its numbers is read from files of ten kinds
(`tests/validation/test_one_target.py`): DXF R12 and R2010, in mm and inches, as pieces, bulges, a
thousand short lines and splines; SVG as arcs and as cubic curves; tables in mm and inches. Each
gives the target within 0.005 mm; scans drawn at 300 dots per inch give it within 0.1 mm.
"""

GOT = 4
"""Place of the column "got" in a row."""


def decimals_for(tolerance: float) -> int:
    """Decimals that show a difference as large as the tolerance."""
    return 0 if tolerance >= 1.0 or tolerance == 0.0 else math.ceil(-math.log10(tolerance))


def show(value: float, check: Check) -> str:
    text = f"{value:.{max(decimals_for(check.tolerance), 0)}f}"
    return text.removeprefix("-") if float(text) == 0.0 else text


def row(check: Check, got: float) -> str:
    cells = (
        check.what,
        check.unit,
        f"{check.source} ({check.mark})",
        show(check.expected, check),
        show(got, check),
        f"{check.tolerance:.2g}: {check.reason}",
    )
    return "| " + " | ".join(cells) + " |"


def page(got: Iterable[float]) -> str:
    """The page's text, with what the project got for each check."""
    lines = [HEAD]
    pairs = zip(CHECKS, got, strict=True)
    for topic, rows in itertools.groupby(pairs, key=lambda pair: pair[0].topic):
        lines.append(f"## {topic}\n")
        lines.append("| what | unit | source | expected | got | tolerance and reason |")
        lines.append("| --- | --- | --- | ---: | ---: | --- |")
        lines += [row(check, value) for check, value in rows]
        lines.append("")
    return "\n".join(lines).rstrip("\n") + "\n" + TAIL


def got_on(text: str) -> list[float]:
    """The figures that a page shows as got."""
    rows = [line.strip("| ").split(" | ") for line in text.splitlines() if line.startswith("| ")]
    return [float(cells[GOT]) for cells in rows if cells[GOT] not in ("got", "---:")]


if __name__ == "__main__":
    PAGE.write_text(page(check.measure() for check in CHECKS), encoding="utf-8")
    print(f"wrote {PAGE}")
