"""Transforms of SVG, and pieces put through them: circles stay arcs where they stay round."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

import numpy as np

from profilestack.errors import InputError, Problem
from profilestack.files.targets.sampling import bezier_points, ellipse_points
from profilestack.geometry.path import Arc, Line, Point, Points, Turn
from profilestack.targets.tracing import Curve, Piece

ROUND = 1e-6
"""Axes that differ by no more than this share are those of a circle."""

MOST_TRANSFORMS = 100


@dataclass(frozen=True, slots=True)
class Affine:
    """x' = a x + c y + e, y' = b x + d y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def then(self, inner: Affine) -> Affine:
        """This one after ``inner``: what an inner element's transform does within an outer's."""
        return Affine(
            self.a * inner.a + self.c * inner.b,
            self.b * inner.a + self.d * inner.b,
            self.a * inner.c + self.c * inner.d,
            self.b * inner.c + self.d * inner.d,
            self.a * inner.e + self.c * inner.f + self.e,
            self.b * inner.e + self.d * inner.f + self.f,
        )

    def apply(self, point: Point) -> Point:
        """Where the point goes."""
        x, y = point
        return (self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def turned(self, vector: Point) -> Point:
        """Where a direction goes."""
        x, y = vector
        return (self.a * x + self.c * y, self.b * x + self.d * y)

    def apply_to(self, points: Points) -> Points:
        """Where points go, shape (n, 2)."""
        matrix = np.array(((self.a, self.b), (self.c, self.d)))
        moved: Points = points @ matrix + np.array((self.e, self.f))
        return moved


@dataclass(frozen=True, slots=True)
class Straight:
    """A line, in user units."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Bezier:
    """A curve by 3 or 4 control points, in user units."""

    control: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Ellipse:
    """A part of an ellipse: center + cos(t) long + sin(t) short, from ``first`` over ``sweep``.

    In user units and radians; its very ends, where they are known, are ``start`` and ``end``.
    """

    center: Point
    long: Point
    short: Point
    first: float
    sweep: float
    start: Point
    end: Point


Drawn = Straight | Bezier | Ellipse


def placed_piece(piece: Drawn, matrix: Affine, fine: float) -> Piece:
    """A drawn piece in the section [mm]."""
    if isinstance(piece, Straight):
        return Line(matrix.apply(piece.start), matrix.apply(piece.end))
    if isinstance(piece, Bezier):
        control = matrix.apply_to(np.array(piece.control))
        return _line_or_curve(bezier_points(control, fine))
    center = matrix.apply(piece.center)
    long, short = matrix.turned(piece.long), matrix.turned(piece.short)
    start, end = matrix.apply(piece.start), matrix.apply(piece.end)
    if _is_round(long, short):
        left = (long[0] * short[1] - long[1] * short[0]) * piece.sweep > 0.0
        turn: Turn = "ccw" if left else "cw"
        return Arc(start, end, center, turn)
    points = ellipse_points(center, long, short, piece.first, piece.sweep, fine)
    points[0], points[-1] = start, end
    return _line_or_curve(points)


def _line_or_curve(points: Points) -> Piece:
    """A curve that is straight is a line."""
    start, end = points[0], points[-1]
    length = math.dist(start, end)
    if length > 0.0:
        along = (end - start) / length
        away = points - start
        off = np.abs(away[:, 0] * along[1] - away[:, 1] * along[0])
        places = away @ along
        if float(off.max()) <= 1e-9 * length and bool((np.diff(places) >= 0.0).all()):
            return Line((float(start[0]), float(start[1])), (float(end[0]), float(end[1])))
    return Curve(points)


def _is_round(long: Point, short: Point) -> bool:
    one, two = math.hypot(*long), math.hypot(*short)
    dot = long[0] * short[0] + long[1] * short[1]
    return one > 0.0 and math.isclose(one, two, rel_tol=ROUND) and abs(dot) <= ROUND * one * two


def affine_from(text: str, where: str) -> Affine:
    """The matrix of a transform attribute; its parts work from the last to the first.

    Raises:
        InputError: it is not understood.
    """
    matrix = Affine()
    rest = text.strip()
    for _ in range(MOST_TRANSFORMS):
        if not rest:
            return matrix
        match = re.match(r"([a-zA-Z]+)\s*\(([^()]*)\)[\s,]*", rest)
        if match is None:
            break
        matrix = matrix.then(_single(match.group(1).lower(), match.group(2), where))
        rest = rest[match.end() :]
    expected = "translate, scale, rotate, skewX, skewY or matrix"
    raise InputError(Problem(where, f"the transform {rest[:40]!r} is not understood", expected))


def _single(word: str, inside: str, where: str) -> Affine:
    try:
        values = [float(item) for item in re.split(r"[\s,]+", inside.strip()) if item]
    except ValueError:
        values = [math.nan]
    known = {"translate": (1, 2), "scale": (1, 2), "rotate": (1, 3), "skewx": (1,), "skewy": (1,),
             "matrix": (6,)}  # fmt: skip
    if len(values) not in known.get(word, ()) or not all(map(math.isfinite, values)):
        told = f"the transform {word}({inside[:40]}) is not understood"
        raise InputError(Problem(where, told, "finite numbers, as many as it takes"))
    if word == "matrix":
        return Affine(*values)
    if word == "translate":
        return Affine(e=values[0], f=values[1] if len(values) > 1 else 0.0)
    if word == "scale":
        return Affine(a=values[0], d=values[-1])
    angle = math.radians(values[0])
    if word == "skewx":
        return Affine(c=math.tan(angle))
    if word == "skewy":
        return Affine(b=math.tan(angle))
    cosine, sine = math.cos(angle), math.sin(angle)
    turn = Affine(cosine, sine, -sine, cosine)
    if len(values) == 1:
        return turn
    x, y = values[1:]
    return Affine(e=x, f=y).then(turn).then(Affine(e=-x, f=-y))
