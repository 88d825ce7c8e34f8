"""The plain shapes of SVG as subpaths: one function, one line in a table."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from itertools import pairwise
from typing import TYPE_CHECKING

from profilestack.errors import InputError, Problem
from profilestack.files.targets.svg_geometry import Ellipse, Straight
from profilestack.files.targets.svg_path import Subpath, arc_between, subpaths
from profilestack.files.targets.wishes import MOST_NUMBERS
from profilestack.geometry.path import Point

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element


def path_shape(element: Element, where: str) -> list[Subpath]:
    """Path."""
    return subpaths(element.get("d", ""), where)


def line_shape(element: Element, where: str) -> list[Subpath]:
    """Line."""
    x1, y1, x2, y2 = (_number(element, key, where) for key in ("x1", "y1", "x2", "y2"))
    return [[Straight((x1, y1), (x2, y2))]]


def polyline_shape(element: Element, where: str) -> list[Subpath]:
    """Polyline."""
    points = _points(element, where)
    return [[Straight(a, b) for a, b in pairwise(points)]] if len(points) > 1 else []


def polygon_shape(element: Element, where: str) -> list[Subpath]:
    """Polygon."""
    points = _points(element, where)
    return [[Straight(a, b) for a, b in pairwise([*points, points[0]])]] if len(points) > 2 else []


def rect_shape(element: Element, where: str) -> list[Subpath]:
    """rect, its corners rounded by rx and ry."""
    x, y, width, height = (_number(element, key, where) for key in ("x", "y", "width", "height"))
    if width <= 0.0 or height <= 0.0:
        return []
    given = [_number(element, key, where) if element.get(key) else None for key in ("rx", "ry")]
    rx = given[0] if given[0] is not None else given[1] or 0.0
    ry = given[1] if given[1] is not None else rx
    rx, ry = min(abs(rx), width / 2.0), min(abs(ry), height / 2.0)
    right, low = x + width, y + height
    if rx == 0.0 or ry == 0.0:
        corners = [(x, y), (right, y), (right, low), (x, low), (x, y)]
        return [[Straight(a, b) for a, b in pairwise(corners)]]
    sides = [
        ((x + rx, y), (right - rx, y)), ((right, y + ry), (right, low - ry)),
        ((right - rx, low), (x + rx, low)), ((x, low - ry), (x, y + ry)),
    ]  # fmt: skip
    drawn: Subpath = []
    for (start, end), (after, _) in zip(sides, [*sides[1:], sides[0]], strict=True):
        if start != end:
            drawn.append(Straight(start, end))
        corner = arc_between(end, after, [rx, ry, 0.0, 0.0, 1.0])
        if corner is not None:
            drawn.append(corner)
    return [drawn]


def circle_shape(element: Element, where: str) -> list[Subpath]:
    """Circle."""
    x, y, r = (_number(element, key, where) for key in ("cx", "cy", "r"))
    return _oval((x, y), r, r)


def ellipse_shape(element: Element, where: str) -> list[Subpath]:
    """Ellipse."""
    x, y, rx, ry = (_number(element, key, where) for key in ("cx", "cy", "rx", "ry"))
    return _oval((x, y), rx, ry)


SHAPES: dict[str, Callable[[Element, str], list[Subpath]]] = {
    "path": path_shape,
    "line": line_shape,
    "polyline": polyline_shape,
    "polygon": polygon_shape,
    "rect": rect_shape,
    "circle": circle_shape,
    "ellipse": ellipse_shape,
}
"""Which function reads which element."""


def _oval(center: Point, rx: float, ry: float) -> list[Subpath]:
    if rx <= 0.0 or ry <= 0.0:
        return []
    start = (center[0] + rx, center[1])
    return [[Ellipse(center, (rx, 0.0), (0.0, ry), 0.0, math.tau, start, start)]]


def _points(element: Element, where: str) -> list[Point]:
    words = re.findall(r"[^\s,]+", element.get("points", ""))
    if len(words) > MOST_NUMBERS:
        raise InputError(Problem(where, f"has more than {MOST_NUMBERS} numbers"))
    try:
        numbers = [float(word) for word in words]
    except ValueError:
        numbers = [math.nan]
    if len(numbers) % 2 or not all(map(math.isfinite, numbers)):
        raise InputError(Problem(where, "its points are not understood", "pairs of numbers"))
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def _number(element: Element, key: str, where: str) -> float:
    text = element.get(key, "0")
    match = re.fullmatch(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(?:px)?\s*", text[:64])
    value = float(match.group(1)) if match else math.nan
    if not math.isfinite(value):
        told = f"{key} = {text[:40]!r} is not understood"
        raise InputError(Problem(where, told, "a plain number in the drawing's own units"))
    return value
