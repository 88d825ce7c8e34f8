"""Which chains of the files read are the profile, put right by what is known of the measuring."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from profilestack.errors import InputError, Problem
from profilestack.geometry.motion import turn
from profilestack.geometry.path import Point
from profilestack.targets.choosing import SeveralChains
from profilestack.targets.joining import Joined, joined
from profilestack.targets.profile_layer import profile_among
from profilestack.targets.tracing import Chain, Tracing, moved, stretched

if TYPE_CHECKING:
    from profilestack.jobs.target import Corrections, TargetRequest


@dataclass(frozen=True, slots=True, eq=False)
class Profiles:
    """One profile, or one for each slice; the blank that a drawing gives for it; and notes.

    ``chains`` are all of the first file, numbered from 1 as a pick counts them.
    """

    profiles: list[Chain]
    blank: Chain | None
    chains: tuple[Chain, ...]
    notes: list[str]


def profiles_in(tracings: Sequence[Tracing], request: TargetRequest) -> Profiles:
    """The profile in each of the files, stretched and with the tilt taken off.

    Raises:
        InputError: what is wrong with a file, with its name.
        SeveralChains: a file holds several, and nothing says which is meant.
    """
    found = Profiles([], None, (), [])
    for tracing, name in zip(tracings, (request.file, *request.slices), strict=True):
        try:
            single = _in_one(tracing, request)
        except SeveralChains as error:
            raise SeveralChains(_in_file(error, str(name)), error.chains) from None
        except InputError as error:
            raise InputError(_in_file(error, str(name))) from None
        found = Profiles(
            [*found.profiles, *single.profiles], found.blank or single.blank,
            found.chains or single.chains, [*found.notes, *single.notes],
        )  # fmt: skip
    return found


def corrected(at: Point, off: Corrections) -> Point:
    """Where a place of a file comes to lie."""
    return turn(-off.tilt).apply((at[0] * off.across, at[1] * off.up))


def _in_one(tracing: Tracing, request: TargetRequest) -> Profiles:
    off = request.corrections
    straight = turn(-off.tilt)
    loose = [moved(stretched(c, off.across, off.up), straight) for c in tracing.chains]
    join = partial(_joined, gap=request.gap)
    if request.average:
        whole = join(loose)
        return Profiles([*whole.chains], None, whole.chains, _closed_gap(whole.gap))
    found = profile_among(loose, join, request.pick, asked=bool(request.reading.layers))
    notes = [*found.notes, *_closed_gap(found.gap)]
    return Profiles([found.chain], found.blank, found.chains, notes)


def _closed_gap(gap: float) -> list[str]:
    return [f"gaps up to {gap:.3f} mm were closed"] if gap > 1e-6 else []


def _joined(loose: Sequence[Chain], gap: float) -> Joined:
    """Chains joined within the gap, longest first, and the largest gap closed [mm].

    Measured ones are slices of one profile, whose ends lie together without belonging so: they
    only close upon themselves.
    """
    groups = [[chain] for chain in loose if chain.measured]
    groups.append([chain for chain in loose if not chain.measured])
    done = [joined(group, gap) for group in groups if group]
    chains = tuple(chain for single in done for chain in single.chains)
    return Joined(chains, max((single.gap for single in done), default=0.0))


def _in_file(error: InputError, name: str) -> list[Problem]:
    return [
        Problem(p.where, p.text, p.expected, p.hint, p.line, p.file or name) for p in error.problems
    ]
