"""Drawings that the tests of the readers write."""

from __future__ import annotations

import io
import math

import ezdxf
from ezdxf.document import Drawing

from profilestack.geometry.path import Arc, Path


def new_dxf(version: str = "R2010", units: int = 4) -> Drawing:
    drawing = ezdxf.new(version)
    drawing.header["$INSUNITS"] = units
    return drawing


def dxf_bytes(drawing: Drawing) -> bytes:
    text = io.StringIO()
    drawing.write(text)
    return text.getvalue().encode("utf-8")


def dxf_of_pieces(path: Path, version: str, units: int = 4, scale: float = 1.0) -> bytes:
    """Every piece a LINE or an ARC of its own."""
    drawing = new_dxf(version, units)
    space = drawing.modelspace()
    for piece in path.segments:
        start, end = (tuple(v * scale for v in p) for p in (piece.start, piece.end))
        if isinstance(piece, Arc):
            center = tuple(v * scale for v in piece.center)
            angles = [
                math.degrees(math.atan2(p[1] - center[1], p[0] - center[0])) for p in (start, end)
            ]
            if piece.turn == "cw":
                angles.reverse()
            space.add_arc(center, piece.radius * scale, *angles)
        else:
            space.add_line(start, end)
    return dxf_bytes(drawing)


def svg(body: str, size: str = 'width="100mm" height="50mm" viewBox="0 0 100 50"') -> bytes:
    names = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f"<svg {names} {size}>{body}</svg>".encode()


def svg_path_of(path: Path) -> str:
    """A path's ``d``: z up becomes y down."""
    words = [f"M {path.start[0]!r},{-path.start[1]!r}"]
    for piece in path.segments:
        x, z = piece.end
        if isinstance(piece, Arc):
            large = int(abs(piece.sweep) > math.pi)
            # turned over, what turns clockwise upward turns clockwise downward: SVG's sweep is 1
            sweep = int(piece.turn == "cw")
            words.append(f"A {piece.radius!r} {piece.radius!r} 0 {large} {sweep} {x!r} {-z!r}")
        else:
            words.append(f"L {x!r} {-z!r}")
    return " ".join(words)
