"""Profiles that the tests of tracing and fitting start from."""

from __future__ import annotations

import numpy as np

from profilestack.geometry.path import Arc, Path, Points
from profilestack.geometry.polyline import filled
from profilestack.targets.tracing import Chain, Curve

STEPPED = (
    Path((0.0, 45.0))
    .line((10.0, 45.0))
    .arc((30.0, 25.0), (10.0, 25.0), "cw")
    .line((40.0, 25.0))
    .arc((50.0, 15.0), (50.0, 25.0), "ccw")
    .arc((60.0, 5.0), (50.0, 5.0), "cw")
    .line((70.0, 5.0))
)
"""A round, a fillet, a hollow and a round in a row, with fillets at both ends."""

SECTION = STEPPED.line((70.0, 0.0)).line((0.0, 0.0)).line((0.0, 45.0))
"""The same as a whole section."""


def sampled(path: Path, step: float) -> Points:
    """Points on the path at most ``step`` apart, every joint among them."""
    parts = [np.array([path.start])]
    for piece in path.segments:
        single = Path(piece.start)
        if isinstance(piece, Arc):
            chord = step * step / (8.0 * piece.radius)
            parts.append(single.arc(piece.end, piece.center, piece.turn).flatten(chord)[1:])
        else:
            parts.append(filled(np.array([piece.start, piece.end]), step)[1:])
    return np.concatenate(parts)


def scattered(points: Points, deviation: float, seed: int = 1) -> Points:
    """The points, each off by a chance error of that standard deviation both ways."""
    return points + np.random.default_rng(seed).normal(0.0, deviation, points.shape)


def measured(points: Points) -> Chain:
    return Chain((Curve(points),), "", measured=True)


def drawn(path: Path) -> Chain:
    return Chain(path.segments)


def farthest(points: Points, path: Path) -> float:
    """The largest distance from the points to the path, by plain sampling of it."""
    flat = path.flatten(1e-6)
    a, b = flat[:-1], flat[1:]
    along = b - a
    worst = 0.0
    for point in points:
        share = np.clip(((point - a) * along).sum(1) / (along**2).sum(1), 0.0, 1.0)
        worst = max(worst, float(np.hypot(*(a + share[:, None] * along - point).T).min()))
    return worst
