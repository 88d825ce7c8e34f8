"""What a hand does to the blank, the run, the setups and the tolerances.

Each is (stack, ...) -> (stack, label); the label is what Undo says. All of them raise InputError
where the stack would contradict itself.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from profilestack.cutting.stroke import lie_of
from profilestack.errors import InputError, Problem
from profilestack.session.pass_edits import Edited, named
from profilestack.session.pass_text import free_name
from profilestack.session.target_fit import WIDEST
from profilestack.stack import (
    FACE,
    Blank,
    CurvedRun,
    OutlineStock,
    Rectangle,
    Round,
    Run,
    Setup,
    Stack,
    StraightRun,
    TurnedRun,
)
from profilestack.units import format_length

BLANK_KINDS = {"rectangle": Rectangle, "round": Round, "outline": OutlineStock}
RUN_KINDS = {kind.kind: kind for kind in (StraightRun, CurvedRun, TurnedRun)}
RUN_WORDS = {"straight": "straight", "curved": "radius", "turned": "turned"}
"""How a shop calls the kinds of run."""

USUAL_LENGTH, USUAL_RADIUS, USUAL_ANGLE = 2400.0, 900.0, 60.0
"""What a run starts with when its kind is changed: the usual length of a strip [mm], and a bow."""


def with_title(stack: Stack, title: str) -> Edited:
    """The stack with another title."""
    return replace(stack, title=title.strip()), "Change the title"


def with_units(stack: Stack, units: str) -> Edited:
    """The stack with bare numbers in other units; no length changes."""
    return replace(stack, units=units), "Change the units"


def with_species(stack: Stack, species: str) -> Edited:
    """The stack of another wood; empty: of no known one."""
    blank = replace(stack.blank, species=species.strip() or None)
    return replace(stack, blank=blank), "Change the wood"


def blank_kind(stack: Stack) -> str:
    """The word for the blank's form."""
    return next(word for word, kind in BLANK_KINDS.items() if isinstance(stack.blank.stock, kind))


def blank_box(blank: Blank) -> tuple[float, float]:
    """Width and height of the blank's box [mm]."""
    lie = lie_of(blank, 0.0)
    return lie.width, lie.height


def with_blank_kind(stack: Stack, kind: str) -> Edited:
    """The blank as a rectangle or a round of the same box."""
    if kind == blank_kind(stack):
        return stack, "Change the blank's form"
    width, height = (round(size, 6) for size in blank_box(stack.blank))
    stock = Rectangle(width, height) if kind == "rectangle" else Round(max(width, height))
    return replace(stack, blank=replace(stack.blank, stock=stock)), "Change the blank's form"


def with_blank_size(stack: Stack, key: str, size: float) -> Edited:
    """The blank with another width, thickness or diameter [mm].

    Raises:
        InputError: the size is impossible, or a slip of the unit.
    """
    if size > WIDEST:
        expected = f"at most {format_length(WIDEST, stack.units)}"
        raise InputError(Problem(key, "is wider than any molding", expected))
    sizes: dict[str, Any] = {key: size}
    stock = replace(stack.blank.stock, **sizes)
    return replace(stack, blank=replace(stack.blank, stock=stock)), f"Change the blank's {key}"


def with_run_kind(stack: Stack, kind: str) -> Edited:
    """Straight, curved or turned, with usual sizes and as many pieces."""
    made: dict[str, Callable[[int], Run]] = {
        "straight": lambda pieces: StraightRun(USUAL_LENGTH, pieces),
        "curved": lambda pieces: CurvedRun(USUAL_RADIUS, USUAL_ANGLE, pieces),
        "turned": TurnedRun,
    }
    run = stack.run if kind == stack.run.kind else made[kind](stack.run.pieces)
    return replace(stack, run=run), "Change the run"


def with_run_value(stack: Stack, key: str, value: float) -> Edited:
    """The run with another length, radius [mm], angle [deg] or number of pieces."""
    values: dict[str, Any] = {key: round(value) if key == "pieces" else value}
    run = replace(stack.run, **values)
    what = "number of pieces" if key == "pieces" else f"run's {key}"
    return replace(stack, run=run), f"Change the {what}"


def with_tolerance(stack: Stack, key: str, value: float) -> Edited:
    """The stack with another tolerance for "leftover" or "overcut" [mm]."""
    values: dict[str, Any] = {key: value}
    tolerance = replace(stack.tolerance, **values)
    return replace(stack, tolerance=tolerance), f"Change the tolerance of the {key}"


def with_setup_added(stack: Stack) -> Edited:
    """One more setup: turned over, or on edge where the blank is turned over already."""
    over = any(setup.angle % 360.0 == 180.0 for setup in stack.setups)
    only_flat = isinstance(stack.run, CurvedRun)
    word, angle = ("edge", 90.0) if over and not only_flat else ("back", 180.0)
    name = free_name(word, [FACE.name, *(setup.name for setup in stack.setups)])
    setups = (*stack.setups, Setup(name, angle))
    return replace(stack, setups=setups), f"Add the setup {name}"


def setup_refusal(stack: Stack) -> str:
    """Why no setup can be added; "" where one can."""
    return "A turned part is cut from its face alone." if isinstance(stack.run, TurnedRun) else ""


def with_setup_name(stack: Stack, place: int, name: str) -> Edited:
    """A setup under another name, and its passes with it."""
    setup = stack.setups[place]
    word = name.strip()
    passes = tuple(
        replace(single, setup=word) if single.setup == setup.name else single
        for single in stack.passes
    )
    setups = _with(stack, place, replace(setup, name=word))
    return replace(stack, setups=setups, passes=passes), f"Rename the setup {setup.name}"


def with_setup_value(stack: Stack, place: int, key: str, value: float) -> Edited:
    """A setup with another angle [deg] or number of copies."""
    setup = stack.setups[place]
    values: dict[str, Any] = {key: round(value) if key == "copies" else value}
    setups = _with(stack, place, replace(setup, **values))
    return replace(stack, setups=setups), f"Change the {key} of the setup {setup.name}"


def without_setup(stack: Stack, place: int) -> Edited:
    """The stack without a setup that no pass uses."""
    setup = stack.setups[place]
    setups = tuple(one for one in stack.setups if one is not setup)
    return replace(stack, setups=setups), f"Remove the setup {setup.name}"


def setup_users(stack: Stack, name: str) -> str:
    """Which passes are cut in a setup, in words; "" where there are none."""
    users = [place for place, single in enumerate(stack.passes) if single.setup == name]
    return named(users) if users else ""


def _with(stack: Stack, place: int, setup: Setup) -> tuple[Setup, ...]:
    setups = list(stack.setups)
    setups[place] = setup
    return tuple(setups)
