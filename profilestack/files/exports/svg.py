"""SVG for other programs: in mm, y turned downward in the numbers, one group a layer."""

from __future__ import annotations

import math
from xml.sax.saxutils import escape, quoteattr

from profilestack.files.exports.layered import TEXT, LayeredDrawing, parts_of
from profilestack.geometry.extent import Box, box_of
from profilestack.geometry.path import Arc, Path, Point

MARGIN = 10.0
"""Around what is drawn [mm]."""

COLORS = {
    1: "#c00000", 2: "#b8860b", 3: "#007a3d", 4: "#007a8a", 5: "#0060a8", 6: "#7a2e7a",
    7: "#000000", 8: "#7f7f7f",
}  # fmt: skip
"""The layers' colours, readable on white."""

MOST_TURN = 2.0 * math.pi / 3.0
"""Arcs are told in parts of at most this [rad]: near half a turn SVG's way of telling an arc by its
ends moves the middle by far more than what the ends are rounded by."""

LETTER = 0.55
"""Usual width of a letter, as a share of the size of type."""


def svg_size(drawing: LayeredDrawing) -> tuple[float, float]:
    """Width and height of the whole file [mm]."""
    box = _box(drawing)
    return box.width + 2.0 * MARGIN, box.height + 2.0 * MARGIN


def svg_bytes(drawing: LayeredDrawing) -> bytes:
    """The drawing as an SVG file at true size; its numbers are mm with 4 decimals."""
    box = _box(drawing)
    left, top = box.left - MARGIN, box.top + MARGIN
    width, height = svg_size(drawing)
    rows = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}mm" '
        f'height="{number(height)}mm" viewBox="{number(left)} {number(-top)} {number(width)} '
        f'{number(height)}">',
    ]
    if drawing.title:
        rows.append(f"<title>{escape(drawing.title)}</title>")
    for layer in drawing.layers:
        rows.append(
            f'<g id={quoteattr(layer.name)} fill="none" stroke="{COLORS[layer.color]}" '
            'stroke-width="0.2">'
        )
        rows += [f'<path d="{path_data(path)}"/>' for path in layer.paths]
        rows.append("</g>")
    rows.append(f'<g id="NOTES" font-family="sans-serif" font-size="{number(1.4 * TEXT)}">')
    rows += [
        f'<text x="{number(note.at[0])}" y="{number(-note.at[1])}">{escape(note.text)}</text>'
        for note in drawing.notes
    ]
    rows += ["</g>", "</svg>", ""]
    return "\n".join(rows).encode("utf-8")


def path_data(path: Path) -> str:
    """A path's ``d``: lines and circular arcs, blanks between all numbers and flags."""
    words = [f"M {_place(path.start)}"]
    pieces = list(parts_of(path, MOST_TURN))
    for piece in pieces:
        if isinstance(piece, Arc):
            # y points downward here: what turns clockwise turns toward positive angles
            sweep = int(piece.turn == "cw")
            radius = number(piece.radius)
            words.append(f"A {radius} {radius} 0 0 {sweep} {_place(piece.end)}")
        elif piece is not pieces[-1] or not path.is_closed:  # Z draws the last side
            words.append(f"L {_place(piece.end)}")
    if path.is_closed:
        words.append("Z")
    return " ".join(words)


def number(value: float) -> str:
    """A number with at most 4 decimals, without an exponent."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _place(point: Point) -> str:
    return f"{number(point[0])} {number(-point[1])}"


def _box(drawing: LayeredDrawing) -> Box:
    """What paths and notes cover [mm]."""
    boxes = [box_of(path) for layer in drawing.layers for path in layer.paths]
    for note in drawing.notes:
        x, y = note.at
        boxes.append(Box(x, y - TEXT / 2.0, x + LETTER * TEXT * 1.4 * len(note.text), y + TEXT))
    return Box(
        min(box.left for box in boxes),
        min(box.bottom for box in boxes),
        max(box.right for box in boxes),
        max(box.top for box in boxes),
    )
