"""Fit a column of members to the drawer."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from profilestack.bits.bit import Bit
from profilestack.cutting.wanted import wanted_in
from profilestack.errors import InputError
from profilestack.finding.adapting.adaptation import Adaptation, Change, Unfitted
from profilestack.finding.adapting.edge_arcs import Curve, EdgeArc, edge_arcs, nearest_radius
from profilestack.finding.adapting.grooves import is_entered, widened
from profilestack.finding.adapting.refitting import curves_in, missing_curves, refits
from profilestack.finding.adapting.slack import DUST, Members, same_size, take_up
from profilestack.geometry.extent import box_of
from profilestack.stack import MemberTarget, Stack
from profilestack.targets.member import LENGTHS
from profilestack.targets.members import MemberColumn

CHORD = 0.001

NO_TAKER = "no fillet or setback can take up the slack"


@dataclass(slots=True)
class _Work:
    """A column on its way: what was done to it so far, and why."""

    stack: Stack
    drawn: MemberColumn
    column: MemberColumn
    bits: Sequence[Bit]
    drawer: Sequence[EdgeArc]
    limit: float
    radii: list[tuple[int, float, float, Bit]] = field(default_factory=list)
    fits: dict[int, list[str]] = field(default_factory=dict)
    slack_of: dict[int, list[int]] = field(default_factory=lambda: defaultdict(list))
    unfitted: list[Unfitted] = field(default_factory=list)

    def leave(self, at: int, words: str, *lengths: float) -> None:
        """Tell why the member there stays."""
        self.unfitted.append(Unfitted(at + 1, self.drawn.members[at].member, words, lengths))

    def take(self, at: int, column: MemberColumn, takers: Sequence[int], bits: list[str]) -> None:
        """Go on with a column in which the member there fits its bits."""
        self.column = column
        self.fits[at] = bits
        for taker in takers:
            self.slack_of[taker].append(at + 1)

    def accepted(self, members: Members) -> MemberColumn | None:
        """The column of these members, if it is as large and may be cut from the same blank."""
        try:
            trial = replace(self.drawn, members=members)
            if not same_size(self.drawn, trial):
                return None
            trial = _as_thick(self.drawn, trial)
            wanted_in(self.stack.blank, MemberTarget(trial), CHORD)
        except InputError:
            return None
        scale = self.drawn.scale
        narrowed = [
            k
            for k, (old, new) in enumerate(zip(self.column.members, members, strict=True))
            if new.member == "fillet" and new.fall < old.fall
        ]
        if all(
            is_entered(members, k, scale, self.bits)
            or not is_entered(self.column.members, k, scale, self.bits)
            for k in narrowed
        ):
            return trial
        return None


def adapted_column(
    stack: Stack, column: MemberColumn, bits: Sequence[Bit], limit: float
) -> Adaptation:
    """The stack with the members of its target fitted; ``limit`` [mm] is on the wood."""
    work = _Work(stack, column, column, bits, edge_arcs(bits), limit)
    for at in range(len(column.members)):
        _fit_curves(work, at)
        _fit_groove(work, at)
    changes = _changes(work)
    if changes:
        stack = replace(stack, target=MemberTarget(work.column))
    return Adaptation(stack, column.path(), limit, changes, tuple(work.unfitted))


def _fit_curves(work: _Work, at: int) -> None:
    """Move the radii of a member that no bit has."""
    member, scale = work.column.members[at], work.drawn.scale
    if member.member == "quirk":
        return
    missing = missing_curves(curves_in(member, scale), work.drawer)
    if not missing:
        return
    if member.variant == "grecian":
        work.leave(at, "a Grecian curve has no one radius that a bit could have")
        return
    is_tried = False
    for refit in refits(member, scale, work.drawer, work.limit):
        is_tried = True
        found = take_up(work.column, at, refit.member, work.drawn.members, work.accepted)
        if found is not None:
            work.radii += [(at, *radius) for radius in refit.radii]
            names = dict.fromkeys(bit.id for _, _, bit in refit.radii)
            work.take(at, found.column, found.takers, list(names))
            missing = missing_curves(curves_in(refit.member, scale), work.drawer)
            is_tried = False
            break
    if missing:
        _leave_curve(work, at, missing[0], is_tried)


def _leave_curve(work: _Work, at: int, curve: Curve, is_tried: bool) -> None:
    """Tell which radius of a member stays, and whether a radius for it was tried."""
    kind = "hollow" if curve.hollow else "round"
    if is_tried:
        work.leave(at, f"no bit has a {kind} of radius {{0}}, and {NO_TAKER}", curve.radius)
        return
    words, lengths = f"no bit has a {kind} of radius {{0}} or near enough", [curve.radius]
    if nearest := nearest_radius(curve, work.drawer):
        words += f"; the nearest is {{1}}, {nearest.bit.id}"
        lengths.append(nearest.curve.radius)
    work.leave(at, words, *lengths)


def _fit_groove(work: _Work, at: int) -> None:
    """Widen a quirk, or the bottom between two rounds, into which no bit goes."""
    members, scale = work.column.members, work.drawn.scale
    if is_entered(members, at, scale, work.bits):
        return
    wider = widened(members, at, scale, work.bits)
    if wider is None:
        work.leave(at, "no bit goes down to its bottom, however wide it is made")
        return
    sizes = (wider.drawn * scale, wider.fitted * scale)
    if wider.fitted - wider.drawn > work.limit / scale + DUST:
        words = f"no bit is as narrow as {{0}}; the narrowest that goes in, {wider.bit.id}, "
        work.leave(at, words + "needs {1}", *sizes)
        return
    found = take_up(work.column, at, wider.member, work.drawn.members, work.accepted)
    if found is None:
        words = f"the narrowest bit that goes in, {wider.bit.id}, needs a width of {{0}}, "
        work.leave(at, words + f"and {NO_TAKER}", sizes[1])
        return
    work.take(at, found.column, found.takers, [wider.bit.id])


def _as_thick(drawn: MemberColumn, fitted: MemberColumn) -> MemberColumn:
    """A sprung column with its sloping back moved so that the strip stays as thick."""
    if drawn.lie != "sprung":
        return fitted
    thinner = box_of(drawn.laid()).height - box_of(fitted.laid()).height
    if abs(thinner) < DUST:
        return fitted
    bottom = drawn.back if drawn.bottom is None else drawn.bottom
    return replace(fitted, back=round(drawn.back + thinner, 9), bottom=bottom)


def _changes(work: _Work) -> tuple[Change, ...]:
    """Every size that differs between the drawn and the fitted column."""
    found = []
    pairs = zip(work.drawn.members, work.column.members, strict=True)
    for at, (old, new) in enumerate(pairs):
        name, number = old.member, at + 1
        found += [
            Change(number, name, "radius", before, after, bit.id)
            for place, before, after, bit in work.radii
            if place == at
        ]
        bit = ", ".join(work.fits[at]) if at in work.fits else None
        for key in LENGTHS:
            before, after = getattr(old, key), getattr(new, key)
            if before is None and after is not None:
                before = old.step  # what the member's own rule gave
            if before is not None and after is not None and abs(after - before) > DUST:
                slack_of = tuple(dict.fromkeys(work.slack_of.get(at, ())))
                found.append(Change(number, name, key, before, after, bit, slack_of))
    if abs(work.column.back - work.drawn.back) > DUST:
        found.append(Change(0, "column", "back", work.drawn.back, work.column.back))
    return tuple(found)
