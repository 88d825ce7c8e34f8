"""How many times as long 3D ball-nose finishing takes as stacked bits, and what changes that most.

"10 to 20 times" is said in the trade without saying what is counted (common practice, no source):
so the ratio is told in several meanings, with how it moves when an assumption does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from profilestack.planning.ball_nose import rows_of
from profilestack.planning.methods import Method, Methods, ball_method, minutes_each
from profilestack.planning.minutes import length_of_travel
from profilestack.planning.scallops import cusp_on_flat, row_minutes
from profilestack.planning.shop import Shop
from profilestack.planning.work import Work

COMMON = (10.0, 20.0)
"""What is said in the trade (common practice, no source)."""

FINE_STEP = 0.5
"""Rows so far apart [mm] are what many programs are set to (common practice)."""


@dataclass(frozen=True, slots=True)
class Moved:
    """The ratio when one assumption is ``low`` or ``high``: its words, both words and ratios.

    ``lengths`` are what low and high mean where they are lengths [mm].
    """

    words: str
    low: str
    low_ratio: float
    high: str
    high_ratio: float
    lengths: tuple[float, float] | None = None

    @property
    def reach(self) -> float:
        """By what factor the ratio moves from one to the other, at least 1."""
        return math.exp(abs(math.log(self.high_ratio / self.low_ratio)))


@dataclass(frozen=True, slots=True)
class Ratios:
    """Ball nose to stacked bits: machine minutes (changes, setups, cutting; no sanding).

    ``batch`` for all pieces, ``one`` for one piece, ``cutting`` without changes and setups,
    ``finishing`` for rows against finishing cuts alone, ``fine`` for the batch at rows of
    ``FINE_STEP``. ``shared`` is the share of the stacked way's minutes that are not cutting.
    ``moved``: what changes the batch's ratio most comes first.
    """

    batch: float
    one: float
    cutting: float
    finishing: float
    fine: float
    shared: float
    moved: tuple[Moved, ...]


@dataclass(frozen=True, slots=True)
class _Asked:
    """Assumptions as factors."""

    cusp: float = 1.0
    fine_feed: float = 1.0
    rough_feed: float = 1.0
    changes: float = 1.0
    setups: float = 1.0
    radius: float = 1.0
    pieces: int | None = None


def ratios_of(methods: Methods) -> Ratios | None:
    """The ratios of a comparison; None where one of the two ways cannot be."""
    stacked, ball = methods.method("stacked"), methods.method("ball-nose")
    if stacked is None or ball is None or ball.ball is None:
        return None
    plan = methods.plan
    pieces = plan.stack.run.pieces
    parts = stacked.work.parts(plan.stack, plan.shop, pieces)
    own = minutes_each(plan, plan.steps)[1]
    rows = ball.ball
    fine = ball_method(
        plan, methods.facing, methods.kept, methods.means.bits,
        cusp_on_flat(rows.radius, FINE_STEP), rows.ball,
    )  # fmt: skip
    return Ratios(
        batch=_ratio(methods, _Asked()),
        one=_ratio(methods, _Asked(pieces=1)),
        cutting=(ball.work.roughing + ball.work.finishing)
        / (stacked.work.roughing + stacked.work.finishing),
        finishing=ball.work.finishing / own if own > 0.0 else math.inf,
        fine=fine.work.parts(plan.stack, plan.shop, pieces).machine / parts.machine,
        shared=(parts.changes + parts.setups) / parts.machine,
        moved=_moved(methods),
    )


def _moved(methods: Methods) -> tuple[Moved, ...]:
    cusp = methods.cusp
    asked = (
        ("cusp", "a quarter", _Asked(cusp=0.25), "four times", _Asked(cusp=4.0)),
        ("ball", "half as large", _Asked(radius=0.5), "twice as large", _Asked(radius=2.0)),
        ("finishing feed", "half", _Asked(fine_feed=0.5), "double", _Asked(fine_feed=2.0)),
        ("roughing feed", "half", _Asked(rough_feed=0.5), "double", _Asked(rough_feed=2.0)),
        ("bit changes", "half as long", _Asked(changes=0.5), "twice", _Asked(changes=2.0)),
        ("setups and wedges", "half as long", _Asked(setups=0.5), "twice", _Asked(setups=2.0)),
        ("number of pieces", "1", _Asked(pieces=1), "100", _Asked(pieces=100)),
    )
    found = [
        Moved(
            words, low, _ratio(methods, at_low), high, _ratio(methods, at_high),
            (cusp / 4.0, 4.0 * cusp) if words == "cusp" else None,
        )
        for words, low, at_low, high, at_high in asked
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda moved: -moved.reach))


def _ratio(methods: Methods, asked: _Asked) -> float:
    """Machine minutes of the ball way over those of the stacked way, so assumed."""
    plan = methods.plan
    shop = _changed(plan.shop, asked)
    pieces = asked.pieces or plan.stack.run.pieces
    works = [_stacked_work(methods, asked), _ball_work(methods, asked)]
    stacked, ball = (work.parts(plan.stack, shop, pieces).machine for work in works)
    return ball / stacked


def _changed(shop: Shop, asked: _Asked) -> Shop:
    return replace(
        shop,
        change=shop.change * asked.changes,
        setup_once=shop.setup_once * asked.setups,
        setup_piece=shop.setup_piece * asked.setups,
        wedge=shop.wedge * asked.setups,
        test=shop.test * asked.setups,
    )


def _method(methods: Methods, name: str) -> Method:
    found = methods.method(name)
    assert found is not None
    return found


def _stacked_work(methods: Methods, asked: _Asked) -> Work:
    work = _method(methods, "stacked").work
    steps = methods.plan.steps
    rough, fine = minutes_each(methods.plan, steps, asked.rough_feed, asked.fine_feed)
    return replace(work, roughing=rough, finishing=fine)


def _ball_work(methods: Methods, asked: _Asked) -> Work:
    """The ball's work with another cusp, ball or feeds."""
    method, plan = _method(methods, "ball-nose"), methods.plan
    assert method.ball is not None
    length = length_of_travel(plan.stack)
    rough, fine = minutes_each(plan, methods.kept, asked.rough_feed, asked.fine_feed)
    rows = rows_of(
        methods.facing, method.ball.ball, methods.cusp * asked.cusp, plan.stack, plan.shop,
        plan.species, asked.radius,
    )  # fmt: skip
    each = row_minutes(
        length, rows.speed.feed * asked.fine_feed, plan.shop.machine.acceleration, rows.step
    )
    if (clearing := method.roughing) is not None:
        feed = clearing.speed.feed
        rough += clearing.minutes
        rough += clearing.travels * length / feed * (1.0 / asked.rough_feed - 1.0)
    return replace(method.work, roughing=rough, finishing=fine + rows.rows * each)
