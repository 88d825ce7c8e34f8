"""DXF for other programs: closed and open polylines with bulges, one layer a kind and a bit."""

from __future__ import annotations

import io
import logging
import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal

from profilestack.files.exports.layered import TEXT, LayeredDrawing, Note, in_file_units, parts_of
from profilestack.geometry.path import Arc, Path
from profilestack.units import MILLIMETRES

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

Version = Literal["R12", "R2000", "R2010"]

VERSIONS: tuple[Version, ...] = ("R12", "R2000", "R2010")

INSUNITS = {"in": 1, "mm": 4}
"""``$INSUNITS`` (the DXF reference, from memory)."""

MOST_TURN = 1.5 * math.pi
"""An arc that turns further is told as two [rad]: no bulge can tell a full circle."""

Vertex = tuple[float, float, float]
"""x, y and the bulge of the piece that follows."""


def dxf_bytes(
    drawing: LayeredDrawing,
    version: Version = "R2010",
    *,
    polylines: bool = False,
    chord: float = 0.001,
) -> bytes:
    """The drawing as a DXF file, the same bytes every time.

    Args:
        drawing: what to write.
        version: of the format; R12 cannot say its units.
        polylines: arcs as straight pieces within ``chord`` [mm], for programs without bulges.
        chord: how far such a piece may be off its arc [mm].
    """
    from ezdxf import options  # type: ignore[attr-defined]  # its manual names it so
    from ezdxf.filemanagement import new

    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)  # it would say that R12 has no units
    unit = float(MILLIMETRES[drawing.units])
    scaled = in_file_units(drawing, unit)
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True  # no dates, no random marks in the file
    try:
        document = new(version, units=INSUNITS[drawing.units])
        document.header["$MEASUREMENT"] = 1 if drawing.units == "mm" else 0
        _fill(document, scaled, chord / unit if polylines else None, TEXT / unit)
        auditor = document.audit()
        assert not auditor.errors, auditor.errors  # nothing of ours may need mending
        stream = io.StringIO(newline="\n")
        document.write(stream)
    finally:
        options.write_fixed_meta_data_for_testing = before
    return stream.getvalue().encode("ascii")


def _fill(document: Drawing, drawing: LayeredDrawing, chord: float | None, text: float) -> None:
    space = document.modelspace()
    for layer in drawing.layers:
        document.layers.add(layer.name, color=layer.color)
        for path in layer.paths:
            _add_path(space, path if chord is None else _straight(path, chord), layer.name)
    document.layers.add("NOTES", color=8)
    for note in _titled(drawing, text):
        words = space.add_text(note.text, height=text, dxfattribs={"layer": "NOTES"})
        words.set_placement(note.at)


def _titled(drawing: LayeredDrawing, text: float) -> Iterator[Note]:
    """The notes, and the title below them."""
    yield from drawing.notes
    if drawing.title and drawing.notes:
        x, y = drawing.notes[-1].at
        yield Note((x, y - 1.6 * text), f"Title: {drawing.title}")


def _add_path(space: Modelspace, path: Path, layer: str) -> None:
    attributes = {"layer": layer}
    vertices, closed = polyline_of(path), path.is_closed
    if space.dxfversion > "AC1009":
        space.add_lwpolyline(vertices, format="xyb", close=closed, dxfattribs=attributes)
    else:
        space.add_polyline2d(vertices, format="xyb", close=closed, dxfattribs=attributes)


def polyline_of(path: Path) -> list[Vertex]:
    """The path's vertices with bulges; the first one of a closed path is not repeated.

    A bulge is the tangent of a quarter of the arc's angle, above 0 counter-clockwise.
    """
    vertices: list[Vertex] = []
    for piece in parts_of(path, MOST_TURN):
        bulge = math.tan(piece.sweep / 4.0) if isinstance(piece, Arc) else 0.0
        vertices.append((*piece.start, bulge))
    if not path.is_closed:
        vertices.append((*path.end, 0.0))
    return vertices


def _straight(path: Path, chord: float) -> Path:
    points = path.flatten(chord).tolist()
    flat = Path((points[0][0], points[0][1]))
    for x, y in points[1:]:
        flat = flat.line((x, y))
    return flat
