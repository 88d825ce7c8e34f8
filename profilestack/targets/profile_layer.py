"""Which chain of a drawing is the profile: the only one, the one picked, or that of layer TARGET.

Drawings that ``export`` writes show much beside the profile. It lies on a layer of its own there,
and so does the blank.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from profilestack.errors import InputError
from profilestack.targets.choosing import chosen
from profilestack.targets.joining import Joined
from profilestack.targets.tracing import Chain

TARGET_LAYER, BLANK_LAYER = "TARGET", "BLANK"
"""Layers of the wanted profile and of the blank in drawings that ``export`` writes."""

Join = Callable[[Sequence[Chain]], Joined]


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """The chain that is meant, the blank that the drawing gives for it, and how they were found.

    ``chains`` are all that joining leaves, numbered from 1 as a pick counts them. ``gap`` [mm] is
    the largest that was closed.
    """

    chain: Chain
    blank: Chain | None
    gap: float
    chains: tuple[Chain, ...]
    notes: tuple[str, ...]


def profile_among(
    loose: Sequence[Chain], join: Join, pick: str | int | None = None, *, asked: bool = False
) -> Profile:
    """The profile of a drawing; where nothing was asked for, layer TARGET decides among several.

    Args:
        loose: what was read.
        join: puts loose chains together.
        pick: which chain is meant, as ``chosen`` takes it.
        asked: whether layers were asked for.

    Raises:
        InputError: there is none, or several and nothing says which.
    """
    may_look = pick is None and not asked
    try:
        whole = join(loose)
    except InputError:
        # lines that meet those of another layer do not matter where the profile has its own
        own = _on_own_layer(loose, join, ()) if may_look else None
        if own is None:
            raise
        return own
    if may_look and len(whole.chains) > 1:
        own = _on_own_layer(loose, join, whole.chains)
        if own is not None:
            return own
    chain, notes = chosen(whole.chains, pick)
    return Profile(chain, None, whole.gap, whole.chains, notes)


def _on_own_layer(loose: Sequence[Chain], join: Join, chains: tuple[Chain, ...]) -> Profile | None:
    """The one chain of layer TARGET; None where there is no such layer, or more chains on it."""
    found = _joined_on(TARGET_LAYER, loose, join)
    if found is None or len(found.chains) != 1:
        return None
    blanks = _joined_on(BLANK_LAYER, loose, join)
    blank = blanks.chains[0] if blanks is not None and len(blanks.chains) == 1 else None
    if blank is not None and not blank.is_closed:
        blank = None
    told = f"layer {TARGET_LAYER} was taken as the profile, and all other layers were left out"
    hint = "for another line say --layer or --pick"
    return Profile(found.chains[0], blank, found.gap, chains, (f"{told}; {hint}",))


def _joined_on(layer: str, loose: Sequence[Chain], join: Join) -> Joined | None:
    """What one layer holds, joined; None where it holds nothing, or nothing that can be joined."""
    own = [chain for chain in loose if _is_on(chain, layer)]
    try:
        return join(own) if own else None
    except InputError:
        return None


def _is_on(chain: Chain, layer: str) -> bool:
    """Whether a chain lies on a layer of a DXF or in a group of an SVG, as its label says."""
    return chain.label.removeprefix("layer ").upper() == layer
