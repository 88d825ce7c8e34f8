"""How a target was fitted to the bits at hand, as a person reads it, in 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from profilestack.finding.adapting.adaptation import Adaptation
from profilestack.jobs.find_words import NOTHING_TO_FIT, change_lines, fine_length

WIDTH = 80


def adaptation_lines(adaptation: Adaptation, units: str) -> Iterator[str]:
    """Every change, and what stays as drawn; lengths in ``units`` ("mm" or "in")."""
    if not (adaptation.changes or adaptation.unfitted):
        yield NOTHING_TO_FIT
        return
    limit = fine_length(adaptation.limit, units)
    yield f"Fitted to the bits at hand, by up to {limit} (radii by 10 % at most)"
    for line in change_lines(adaptation, units):
        yield from textwrap.wrap(line, WIDTH, initial_indent="  ", subsequent_indent="      ")
    if adaptation.changes:
        yield "  Overall height and projection are as drawn. Check mating pieces, and what the"
        yield "  new work stands beside, before you cut it so."
