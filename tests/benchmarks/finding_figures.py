"""Writes docs/finding-figures.md: ``python -m tests.benchmarks.finding_figures``.

Takes a quarter of an hour; what differs from the aim is told on the way.
"""

from __future__ import annotations

import os
import platform

import numpy
import scipy
import shapely

from tests.benchmarks import covers, planted, referee
from tests.benchmarks.processes import ROOT

PAGE = ROOT / "docs" / "finding-figures.md"


def page() -> str:
    """The page's text."""
    machine = (
        f"{platform.machine()}, {os.cpu_count()} cores, {platform.system()}; "
        f"CPython {platform.python_version()}, numpy {numpy.__version__}, "
        f"scipy {scipy.__version__}, shapely {shapely.__version__}"
    )
    head = (
        "# Figures of the finder\n\n"
        "Made by `python -m tests.benchmarks.finding_figures`; the ordinary tests do a part of\n"
        "each (`tests/unit/finding`). Times are of a machine that others used too; how long whole\n"
        "commands take stands in [performance](performance.md).\n\n"
        f"Machine: {machine}.\n"
    )
    return "\n".join((head, planted.section(), covers.section(), referee.section())).rstrip() + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(f"wrote {PAGE}")
