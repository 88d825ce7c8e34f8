"""From an order of tasks to steps: each depth cut by the engine, with speed, feed and reason."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import Bit
from profilestack.bits.edge import largest_radius
from profilestack.cutting.caution import Caution
from profilestack.cutting.cut import CHORD, Cut, PassCut, cut_stack
from profilestack.errors import InputError, Problem
from profilestack.geometry.region import subtract
from profilestack.planning.costs import Costs, travel_minutes
from profilestack.planning.depths import Depths, is_light
from profilestack.planning.engagement import Engagement, engagement_of
from profilestack.planning.feeds import LEAST_SHARE, Speed, least_feed, speed_for
from profilestack.planning.plan import Side, Step, Way
from profilestack.planning.reasons import depth_reason, purpose_of
from profilestack.planning.speeds import cutting_power
from profilestack.planning.tasks import Task
from profilestack.stack import Stack, StraightRun, TurnedRun


def steps_of(
    costs: Costs, places: Sequence[int], bits: Mapping[str, Bit]
) -> tuple[tuple[Step, ...], Cut]:
    """The steps of an order, and the engine's cut of them: each depth is a pass of that cut.

    Raises:
        InputError: a cut that the spindle cannot take; with what could.
    """
    tasks = costs.ground.tasks
    mask, order = 0, []
    for number, place in enumerate(places, 1):
        taking = costs.taking(place, mask)
        order += [(number, place, taking.depths, k) for k in range(len(taking.depths.depths))]
        mask |= 1 << place
    passes = tuple(
        replace(tasks[place].single, depth=depths.depths[k]) for _, place, depths, k in order
    )
    cut = cut_stack(replace(costs.stack, passes=passes), bits, CHORD)
    planned = [tasks[place] for place in places]
    steps = []
    for (number, _, depths, k), single in zip(order, cut.passes, strict=True):
        steps.append(_step(costs, planned, cut, single, number, depths, k))
    weak: dict[str, Problem] = {}  # by bit, the heaviest of its steps
    for step in sorted(steps, key=lambda step: -step.section):
        if (problem := _weakness(costs, step)) is not None:
            weak.setdefault(step.bit.id, problem)
    if weak:
        raise InputError(tuple(weak.values()))
    return _with_trapped(costs, steps, cut), cut


def _with_trapped(costs: Costs, steps: Sequence[Step], cut: Cut) -> tuple[Step, ...]:
    """The steps, with a caution for every pass that leads the wood between fence and bit: at the
    edge that is off the fence.
    """
    if not costs.shop.machine.spindle_below or isinstance(costs.stack.run, TurnedRun):
        return tuple(steps)
    warned: set[int] = set()
    found = []
    for step, single in zip(steps, cut.passes, strict=True):
        other = cut.strokes[single.first].lie.width - step.offset
        is_edge = step.count == 1 and other <= largest_radius(step.bit)
        if step.side == "left" and is_edge and step.pass_number not in warned:
            warned.add(step.pass_number)
            words = "The wood runs between fence and bit, where it is caught and thrown"
            if isinstance(costs.stack.run, StraightRun) and step.begin is None is step.end:
                words += (
                    ": turn the piece end for end and run its other edge along the fence, {0} from "
                    "fence to bit centre."
                )
            else:
                words += ": guide it from its other edge, {0} from the bit's centre."
            trapped = Caution("wood-trapped", "warn", step.pass_number, words, (other,))
            step = replace(step, cautions=(*step.cautions, trapped))
        found.append(step)
    return tuple(found)


def _step(
    costs: Costs,
    planned: Sequence[Task],
    cut: Cut,
    single: PassCut,
    number: int,
    depths: Depths,
    k: int,
) -> Step:
    task, shop = planned[number - 1], costs.shop
    relief = task.single.relief
    finishing = k == len(depths.depths) - 1 and not relief
    piece, met = _largest(cut, single)
    speed = speed_for(task.bit, shop, costs.species, finishing, piece.area, met.thinning)
    light = is_light(piece)
    below = shop.machine.spindle_below
    way, from_left = _way(met.side, finishing and light and not below, below)
    travel = travel_minutes(costs.stack, task, shop, speed)
    place = task.single
    return Step(
        number=single.number,
        pass_number=number,
        document_pass=task.document_pass,
        bit=task.bit,
        setup=place.setup,
        offset=place.offset,
        depth=single.cut.depth,
        depths=depths.depths,
        place=k + 1,
        relief=relief,
        finishing=finishing,
        **_figures(costs, single, float(piece.area), met, speed),
        travels=task.travels,
        minutes=travel * task.travels * costs.stack.run.pieces,
        side=met.side,
        way=way,
        from_left=from_left,
        purpose=purpose_of(planned, number),
        how=depth_reason(task, depths, k, costs.limits(task), light),
        speed_why=speed.why,
        cautions=_cautions(costs, task, number, depths, k, speed),
        **{key: getattr(place, key) for key in ("begin", "end", "count", "pitch", "note")},
    )


def _figures(
    costs: Costs, single: PassCut, section: float, met: Engagement, speed: Speed
) -> dict[str, Any]:
    """Speed, feed, what is removed, chip and power of a step."""
    force = costs.shop.force_in(costs.species)
    return {
        "rpm": speed.rpm,
        "feed": speed.feed,
        "tooth": speed.tooth,
        "removed_area": single.removed_area,
        "removed_volume": single.removed_volume,
        "section": section,
        "chip": speed.tooth * met.thinning,
        "power": cutting_power(force, section, speed.feed),
        "power_there": costs.shop.machine.power_at(speed.rpm),
    }


def _largest(cut: Cut, single: PassCut) -> tuple[BaseGeometry, Engagement]:
    """What the heaviest of a step's travels takes, in the section, and how its edge meets it."""
    strokes = range(single.first, single.last)
    areas = {k: cut.sections[k].area - cut.sections[k + 1].area for k in strokes}
    heaviest = max(strokes, key=lambda k: areas[k])
    piece = subtract(cut.sections[heaviest], cut.sections[heaviest + 1])
    stroke = cut.strokes[heaviest]
    laid = _on_bench(piece, cut, heaviest)
    return piece, engagement_of(single.bit, laid, stroke.axis, stroke.tip)


def _on_bench(piece: BaseGeometry, cut: Cut, stroke: int) -> BaseGeometry:
    laid: BaseGeometry = shapely.transform(piece, cut.strokes[stroke].to_bench)
    return laid


def _way(side: Side, climbs: bool, below: bool) -> tuple[Way, bool]:
    """Against or with the rotation, and whether the travel starts at the left end.

    The spindle turns clockwise seen from above: wood on the right of the travel is climb. Seen
    from the left end the travel from there goes away, and wood on the bit's right lies right.
    With a spindle below (clockwise seen from the collet all the same) the hands hold the piece to
    a fence on its left side: in a groove the front of the bit must push it there, not off it, and
    it does so from the right end (facing the fence, the piece goes from right to left).
    """
    if side in ("both", "none"):
        return "both", not below
    if climbs:
        return "climb", side == "right"
    return "conventional", side == "left"


def _weakness(costs: Costs, step: Step) -> Problem | None:
    """What the spindle cannot take at a feed that does not burn, and what could."""
    shop = costs.shop
    least = least_feed(step.bit, shop, costs.species, step.rpm)
    if step.feed >= least - 1e-6:
        return None
    needed = cutting_power(shop.force_in(costs.species), step.section, least) / shop.load
    if needed <= step.power_there:  # it is slow for other reasons: the chip is a caution
        return None
    rated = needed * shop.machine.rated_speed / min(step.rpm, shop.machine.rated_speed)
    text = (
        f"{step.bit.id} takes {step.section:.1f} mm2 at once in pass {step.pass_number} of the "
        f"plan, {step.depth:.2f} mm deep; at the least feed that does not burn, "
        f"{least / 1000:.1f} m/min at {step.rpm:,.0f} rpm, that needs {_watts(needed)} W and the "
        f"spindle gives {_watts(step.power_there)} W there"
    )
    expected = f"a spindle of {math.ceil(rated):,} W, or a narrower bit that cuts in several lanes"
    return Problem("machine.power", text, expected)


def _watts(power: float) -> str:
    return f"{power:,.0f}" if power >= 100.0 else f"{power:.2g}"


def _cautions(
    costs: Costs, task: Task, number: int, depths: Depths, k: int, speed: Speed
) -> tuple[Caution, ...]:
    found = []
    limits = costs.limits(task)
    if k == 0 and not depths.kept:
        lengths = (limits.height,)
        words = (
            f"It takes {depths.section:.0f} mm2 at once; {limits.section:.0f} mm2 and {{0}} deep "
            "are usual here: rough out before it with a straight bit, and feed slowly."
        )
        found.append(Caution("heavy-cut", "warn", number, words, lengths))
    usual = costs.shop.chip_range(task.diameter, costs.species.group)
    if k == 0 and speed.tooth < LEAST_SHARE * usual.low:
        words = "Feed per tooth {0}, where {1} is the least that is usual: it may burn."
        found.append(Caution("thin-chip", "note", number, words, (speed.tooth, usual.low)))
    return tuple(found)


def stack_in_order(costs: Costs, places: Sequence[int]) -> Stack:
    """The planned stack: its passes in the order they are taken."""
    passes = tuple(costs.ground.tasks[place].single for place in places)
    return replace(costs.stack, passes=passes)
