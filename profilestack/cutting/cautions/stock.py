"""What happens to the wood: loose pieces, weak places, how it rests."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from profilestack.cutting.caution import Caution, Severity
from profilestack.cutting.cut import Cut
from profilestack.cutting.nearest import Numbers
from profilestack.cutting.stroke import Stroke
from profilestack.geometry.path import Points
from profilestack.geometry.region import chains_of, pieces_of, subtract

CRUMB = 1.0
"""A loose piece smaller than this [mm2] is a sliver."""

DUST = 0.01
"""A piece smaller than this [mm2] is dust."""

SUPPORT = 8.0
"""So much wood [mm], or a third of the thickness, should stay under the last cut (common
practice, from memory)."""

BREAKS = 3.0
"""Less support than this [mm] breaks under the cut (judgement, after common practice)."""

FIN = 2.0
"""A fin or neck thinner than this [mm] breaks (common practice, from memory)."""


def nothing_cut(cut: Cut) -> Iterator[Caution]:
    """Passes that remove nothing: right for the overlapping lanes of a flat."""
    for single in cut.passes:
        if single.removed_area < 1e-6:
            yield Caution("cuts-nothing", "note", single.number, _NOTHING)


_NOTHING = (
    "The pass cuts nothing at nominal size: right as a clean-up lane; otherwise check its offset "
    "and depth, or switch it off."
)


def loose_pieces(cut: Cut) -> Iterator[Caution]:
    """Pieces that come away from the part."""
    counts = shapely.get_num_geometries(np.array(cut.sections, dtype=object))
    if counts.max() <= 1:
        return
    for single in cut.passes:
        before = _pieces(cut.sections[single.first])
        after = _pieces(cut.sections[single.last])
        if len(after) <= len(before):
            continue
        severity: Severity = "note" if after[1].area < CRUMB else "warn"
        low_x, low_z, high_x, high_z = after[1].bounds
        size = (high_x - low_x, high_z - low_z)
        yield Caution("piece-loose", severity, single.number, _LOOSE, size)


def _pieces(section: BaseGeometry) -> list[Polygon]:
    """Pieces that can be seen, largest first."""
    return [piece for piece in pieces_of(section) if piece.area > DUST]


_LOOSE = (
    "A piece {0} by {1} comes loose: leave a bridge or tape it down, keep clear of its way, and "
    "stop to take it out."
)


def resting(cut: Cut) -> Iterator[Caution]:
    """Faces cut earlier that the blank rests on once it is turned over."""
    lie = cut.strokes[0].lie if cut.strokes else None
    for k, stroke in enumerate(cut.strokes):
        if stroke.lie is lie:
            continue
        lie = stroke.lie
        whole, _, _ = _contact(cut.sections[0], stroke)
        length, low, high = _contact(cut.sections[k], stroke)
        middle = stroke.to_bench(np.array((cut.sections[k].centroid.coords[0],)))[0, 0]
        # a blank that never lay flat in this setup has a wedge or cradle made for it
        if whole >= 5.0 and (length < 5.0 or not low <= middle <= high):
            yield Caution("rests-on-points", "warn", stroke.number, _RESTS, (length, whole))


_RESTS = (
    "Turned over, the part rests on {0} of the {1} it had before it was shaped: bed it on a "
    "carrier or packing, and cut this setup first if you can."
)


def _contact(section: BaseGeometry, stroke: Stroke) -> tuple[float, float, float]:
    """Length of bed contact and where it begins and ends [mm], in the stroke's setup."""
    starts, ends = _bench_edges(section, stroke)
    lowest = float(np.minimum(starts[:, 1], ends[:, 1]).min())
    flat = (np.maximum(starts[:, 1], ends[:, 1]) - lowest) < 0.02
    across = np.concatenate((starts[flat, 0], ends[flat, 0]))
    if not flat.any():
        return 0.0, 0.0, 0.0
    length = float(np.abs(ends[flat, 0] - starts[flat, 0]).sum())
    return length, float(across.min()), float(across.max())


def _bench_edges(section: BaseGeometry, stroke: Stroke) -> tuple[Points, Points]:
    chains = [stroke.to_bench(chain) for chain in chains_of(section)]
    if not chains:
        return np.zeros((1, 2)), np.zeros((1, 2))
    starts = np.concatenate([chain[:-1] for chain in chains])
    ends = np.concatenate([chain[1:] for chain in chains])
    return starts, ends


def support(cut: Cut) -> Iterator[Caution]:
    """Wood left under the cuts of each setup, where it is thicker on both sides."""
    last: dict[tuple[float, int], Stroke] = {}
    for stroke in cut.strokes:
        last[stroke.setup.angle, stroke.copy] = stroke
    # copies are alike: the first of each setup stands for all
    for stroke in [stroke for (_, copy), stroke in last.items() if copy == 0]:
        thin = _thinnest_neck(cut.sections[-1], stroke)
        wanted = min(SUPPORT, stroke.lie.height / 3.0)
        if thin < wanted:
            severity: Severity = "stop" if thin < BREAKS else "warn"
            name = stroke.setup.name.replace("{", "{{").replace("}", "}}")
            words = f"Only {{0}} of wood stays under the cuts of setup {name!r}"
            words += "; {1} is usual: cut less deep, or bed the part on a carrier."
            yield Caution("too-thin", severity, stroke.number, words, (thin, wanted))


def _thinnest_neck(section: BaseGeometry, stroke: Stroke) -> float:
    """The least height of wood that has more wood on both sides [mm]; inf where there is none."""
    starts, ends = _bench_edges(section, stroke)
    low, high = float(starts[:, 0].min()), float(starts[:, 0].max())
    places = np.linspace(low, high, 98)[1:-1] + 1e-7
    heights = _tallest(starts, ends, places)
    left = np.maximum.accumulate(heights)
    right = np.maximum.accumulate(heights[::-1])[::-1]
    shoulder = np.minimum(left, right)
    necks = heights < 0.8 * shoulder
    return float(heights[necks].min()) if necks.any() else float("inf")


def _tallest(starts: Points, ends: Points, places: Numbers) -> Numbers:
    """The tallest unbroken stretch of wood above each place across the bed [mm], shape (n,)."""
    (x0, z0), (x1, z1) = starts.T, ends.T
    # each edge crosses the places between its ends
    first = np.searchsorted(places, np.minimum(x0, x1))
    counts = np.searchsorted(places, np.maximum(x0, x1)) - first
    edge = np.repeat(np.arange(len(x0)), counts)
    column = np.arange(len(edge)) + np.repeat(first - np.cumsum(counts) + counts, counts)
    share = (places[column] - x0[edge]) / (x1[edge] - x0[edge])
    z = z0[edge] + share * (z1[edge] - z0[edge])
    order = np.lexsort((z, column))
    z, column = z[order], column[order]
    # crossings come in pairs: into the wood, out of it
    tall = np.zeros(len(places))
    np.maximum.at(tall, column[::2], z[1::2] - z[::2])
    return tall


def fins_and_necks(cut: Cut) -> Iterator[Caution]:
    """Fins that stand up thin, and necks that hold the section together thinly."""
    section = shapely.simplify(cut.sections[-1], 0.02, preserve_topology=False)
    core = shapely.buffer(section, -FIN / 2.0, join_style="mitre")
    bodies = [piece for piece in pieces_of(core) if piece.area > 20.0]
    if len(bodies) > len(pieces_of(cut.sections[-1])):
        yield Caution("section-weak", "warn", None, _WEAK, (FIN,))
    grown = shapely.buffer(core, FIN / 2.0 + 0.03, join_style="mitre")
    for fin in pieces_of(subtract(section, grown, "the fins")):
        if fin.area < 0.5:
            continue
        box = shapely.get_coordinates(shapely.minimum_rotated_rectangle(fin))
        sides = np.hypot(*np.diff(box[:3], axis=0).T)
        tall = float(sides.max())
        thin = fin.area / tall
        if tall > 1.5 * thin:
            yield Caution("thin-fin", "warn", None, _FIN, (thin, tall, FIN))


_WEAK = (
    "A neck thinner than {0} holds two parts of the section together: cut less deep on one "
    "side, or leave the part on a carrier."
)
_FIN = (
    "A fin about {0} thin stands {1} long: fins under {2} break; cut it last with light cuts, "
    "or make it thicker."
)
