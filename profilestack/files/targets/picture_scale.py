"""The scale of a picture by two places in it and the true distance between them."""

from __future__ import annotations

import math

from profilestack.errors import InputError, Problem

LEAST_APART = 10.0
"""Places nearer to each other than this give no scale [pixels]: half a pixel is a twentieth."""

SHORTEST, LONGEST = 1e-3, 1e6
"""Lengths in a picture [mm]."""

TwoPlaces = tuple[float, float, float, float]
"""x and y of two places [pixels from the upper left, x right and y down]."""


def scale_by_points(points: TwoPlaces, distance: float) -> float:
    """Millimetres per pixel.

    Args:
        points: two places.
        distance: between them in truth [mm].

    Raises:
        InputError: all that keeps them from giving a scale.
    """
    if problems := scale_problems(points, distance):
        raise InputError(problems)
    return distance / pixels_between(points)


def pixels_between(points: TwoPlaces) -> float:
    """How far two places lie apart [pixels]."""
    return math.dist(points[:2], points[2:])


def scale_problems(points: TwoPlaces, distance: float) -> list[Problem]:
    """What keeps two places and a length from giving a scale."""
    found = []
    if not all(map(math.isfinite, points)):
        found.append(Problem("points", f"{points!r} are no points", "four pixels"))
    elif points[:2] == points[2:]:
        told = f"both lie at {points[0]:g}, {points[1]:g} pixels"
        hint = "take the ends of something long whose length you know"
        found.append(Problem("points", told, "two places far apart", hint))
    elif (apart := pixels_between(points)) < LEAST_APART:
        told = f"lie {apart:.1f} pixels apart"
        expected = f"two places far apart, {LEAST_APART:g} pixels at least"
        hint = "take the ends of something long whose length you know"
        found.append(Problem("points", told, expected, hint))
    if not (math.isfinite(distance) and SHORTEST <= distance <= LONGEST):
        found.append(Problem("distance", f"{distance!r} mm is impossible", "a length above 0"))
    return found
