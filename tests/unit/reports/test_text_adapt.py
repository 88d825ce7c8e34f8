"""How the changes of a fitted target are told."""

from __future__ import annotations

from pathlib import Path

import pytest

from profilestack.files.shipped import SMALL_SHOP, read_bits, shipped_examples_dir
from profilestack.files.stack_file import read_stack
from profilestack.finding.adapting.adapt import adapted
from profilestack.finding.adapting.adaptation import Adaptation, Change, Unfitted
from profilestack.geometry.path import Path as ProfilePath
from profilestack.reports.text_adapt import NOTHING_TO_FIT, adaptation_lines
from profilestack.stack import Blank, Rectangle, Stack, StraightRun

STACK = Stack(Blank(Rectangle(10.0, 10.0)), StraightRun(1.0))
PATH = ProfilePath((0.0, 10.0)).line((10.0, 10.0))


def told(*changes: Change, units: str = "mm", unfitted: tuple[Unfitted, ...] = ()) -> list[str]:
    return list(adaptation_lines(Adaptation(STACK, PATH, 1.0, changes, unfitted), units))


def test_the_sizes_of_a_member_are_on_one_line_with_its_bits() -> None:
    found = told(
        Change(3, "ovolo", "radius", 12.5, 12.7, "round"),
        Change(3, "ovolo", "height", 12.5, 12.7, "round"),
    )
    assert found[0] == "Fitted to the bits at hand, by up to 1 mm (radii by 10 % at most)"
    both = "radius 12.5 mm becomes 12.7 mm, height 12.5 mm becomes 12.7 mm"
    assert " ".join(" ".join(found[1:-2]).split()) == f"member 3, ovolo, fits round: {both}"


def test_where_the_slack_went() -> None:
    _, one, more, two, three, *_ = told(
        Change(1, "fillet", "height", 10.0, 9.5, None, (3, 5)),
        Change(2, "line", "length", 10.0, 9.5, None, (3,)),
        Change(0, "column", "back", 7.0, 6.5),
    )
    assert one == "  member 1, fillet, takes up the slack of members 3 and 5: height 10 mm becomes"
    assert more == "      9.5 mm"
    assert two == "  line 2, takes up the slack of arc 3: length 10 mm becomes 9.5 mm"
    assert three == "  the column: back 7 mm becomes 6.5 mm"


def test_what_stays_is_told_with_the_reason() -> None:
    why = Unfitted(2, "arc", "no bit has a round of radius {0}", (12.7,))
    assert told(unfitted=(why,))[1:] == [
        "  arc 2 stays as drawn: no bit has a round of radius 12.7 mm"
    ]
    assert told(unfitted=(why,), units="in")[1].endswith("radius 1/2 in")


def test_the_page_on_finding_shows_what_is_told_of_the_casing() -> None:
    stack = read_stack(shipped_examples_dir() / "casing" / "as-sampled.stack.toml")
    bits = read_bits(SMALL_SHOP).bits
    _, *lines = adaptation_lines(adapted(stack, bits, 1.6), "mm")
    page = Path(__file__).parents[3] / "docs" / "finding.md"
    assert "\n".join(lines[:3]) in page.read_text(encoding="utf-8")


def test_where_everything_fits_that_is_said() -> None:
    assert told() == [NOTHING_TO_FIT]


@pytest.mark.parametrize("units", ["mm", "in"])
def test_no_line_is_wider_than_a_console(units: str) -> None:
    changes = [
        Change(number, "cyma-recta", key, 25.123, 25.456, "point-round-1-2in, core-box-1in")
        for number in (3, 11)
        for key in ("radius", "height", "projection")
    ]
    why = Unfitted(12, "cyma-reversa", "no bit has it; " * 9)
    lines = told(*changes, units=units, unfitted=(why,))
    assert max(map(len, lines)) <= 80
