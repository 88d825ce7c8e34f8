"""The face of a molding under a raking lamp: what the eye will see of its profile and ridges.

One looks square onto the face. The lamp is far away, to the left or to the right, ``altitude``
above the face. A matt surface is as bright as the cosine of the angle between its normal and the
way to the lamp (Lambert, Photometria, 1760); where something stands in that way it is dark.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from shapely.geometry.base import BaseGeometry

from profilestack.cutting.nearest import Numbers
from profilestack.geometry.region import chains_of
from profilestack.planning.lowering import LOWEST, skyline_of

SMOOTH = math.radians(6.0)
"""Pieces that bend by less than this where they meet are one curve, flattened."""

ALIKE = 1.6
"""Neighbours of a flattened curve are of one length; a longer one is no part of it."""

WALL = 1e-6
"""A step between places so near to each other [mm] is a wall, which is not seen from above."""

PER_PIXEL = 4
"""So many places are looked at in each pixel, unless told otherwise."""


@dataclass(frozen=True, slots=True)
class Lamp:
    """Where the light comes from: ``altitude`` above the face [deg], from the left or the right.

    ``room`` is the share of the light that comes from where one stands, and throws no shadow.
    """

    altitude: float = 30.0
    from_left: bool = True
    room: float = 0.0

    @property
    def on_flat(self) -> float:
        """How bright a flat face is: the sine of the altitude, and the light of the room."""
        return (1.0 - self.room) * math.sin(math.radians(self.altitude)) + self.room


@dataclass(frozen=True, slots=True, eq=False)
class Face:
    """The upper side of a region.

    Between ``places`` (n,) [mm] the ``heights`` (n,) [mm] change evenly; ``begins`` and ``ends``
    (n - 1,) are the slopes of each piece at its two ends, as angles [rad]: they differ where the
    piece is part of a flattened curve.
    """

    places: Numbers
    heights: Numbers
    begins: Numbers
    ends: Numbers


def face_of(region: BaseGeometry) -> Face | None:
    """The upper side of a region; None where there is none."""
    chains = chains_of(region)
    if not chains:
        return None
    wood = skyline_of(chains)
    run, rise = np.diff(wood.places), np.diff(wood.heights)
    angles = np.arctan2(rise, run)
    lengths = np.hypot(run, rise)
    before, after = angles[:-1], angles[1:]
    is_wall = run < WALL
    smooth = (np.abs(after - before) < SMOOTH) & ~is_wall[:-1] & ~is_wall[1:]
    joint = (before + after) / 2.0
    joint = np.where(lengths[:-1] > ALIKE * lengths[1:], before, joint)
    joint = np.where(lengths[1:] > ALIKE * lengths[:-1], after, joint)
    begins, ends = angles.copy(), angles.copy()
    ends[:-1] = np.where(smooth, joint, before)
    begins[1:] = np.where(smooth, joint, after)
    return Face(wood.places, wood.heights, begins, ends)


def shade(face: Face, at: Numbers, lamp: Lamp) -> Numbers:
    """How bright the face is at places (m,) [mm]: 0 dark, 1 square to the light, nan no wood."""
    piece = np.searchsorted(face.places, at, side="right") - 1
    inside = (piece >= 0) & (piece < len(face.begins))
    piece = np.clip(piece, 0, len(face.begins) - 1)
    first = face.places[piece]
    share = (at - first) / (face.places[piece + 1] - first)
    height = face.heights[piece] + share * (face.heights[piece + 1] - face.heights[piece])
    angle = face.begins[piece] + share * (face.ends[piece] - face.begins[piece])
    altitude = math.radians(lamp.altitude)
    bright = np.maximum(np.sin(altitude + angle if lamp.from_left else altitude - angle), 0.0)
    bright[_shadowed(face, at, height, piece, lamp)] = 0.0
    bright = (1.0 - lamp.room) * bright + lamp.room * np.cos(angle)
    bright[~inside | (height <= LOWEST / 2.0)] = np.nan
    return bright


def _shadowed(
    face: Face, at: Numbers, height: Numbers, piece: np.ndarray, lamp: Lamp
) -> np.ndarray:
    """Whether something higher stands between the places and the lamp."""
    slope = math.tan(math.radians(lamp.altitude))
    if lamp.from_left:
        # along a ray height + place x slope stays the same: whatever had more of it is in the way
        most = np.maximum.accumulate(face.heights + face.places * slope)[piece]
        return np.asarray(most > height + at * slope + 1e-6)
    most = np.maximum.accumulate((face.heights - face.places * slope)[::-1])[::-1][piece + 1]
    return np.asarray(most > height - at * slope + 1e-6)


def shaded_pixels(
    face: Face, left: float, scale: float, count: int, lamp: Lamp, each: int = PER_PIXEL
) -> tuple[Numbers, Numbers]:
    """Mean brightness of ``count`` pixels in a row, and how much of each is wood, both (count,).

    The row begins at the place ``left`` [mm]; ``scale`` is in pixels per mm; ``each`` places are
    looked at in a pixel.
    """
    at = np.asarray(left + (np.arange(count * each) + 0.5) / (scale * each), np.float64)
    bright = shade(face, at, lamp).reshape(count, each)
    wood = ~np.isnan(bright)
    seen = wood.sum(axis=1)
    mean = np.where(wood, bright, 0.0).sum(axis=1) / np.maximum(seen, 1)
    return mean, seen / each
