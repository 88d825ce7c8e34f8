"""Drawings for other programs."""

from __future__ import annotations

from profilestack.cutting.cut import cut_stack
from profilestack.cutting.outline import OUTLINE_CHORD, outline_of
from profilestack.files.exports.dxf import dxf_bytes
from profilestack.files.exports.layered import LayeredDrawing, layered_drawing
from profilestack.files.exports.svg import svg_bytes, svg_size
from profilestack.jobs.cut import cut_and_judge
from profilestack.jobs.exports.order import ExportOrder, Made, Making
from profilestack.units import format_length


def dxf(order: ExportOrder) -> Making:
    """A DXF drawing."""
    drawing = _drawing(order)
    data = dxf_bytes(drawing, order.version, polylines=order.polylines)
    unit = {"mm": "millimetres", "in": "inches"}[order.units]
    about = f"DXF {order.version} in {unit}, {_counted(drawing)}"
    if order.version == "R12":
        about += "; R12 cannot say its units: tell the program that reads it"
    return Making((Made(order.path, data, about),), _is_good(order))


def svg(order: ExportOrder) -> Making:
    """An SVG drawing."""
    drawing = _drawing(order)
    size = " x ".join(format_length(side, order.units) for side in svg_size(drawing))
    about = f"SVG at true size, {size}, {_counted(drawing)}"
    return Making((Made(order.path, svg_bytes(drawing), about),), _is_good(order))


def _is_good(order: ExportOrder) -> bool:
    return cut_and_judge(order.stack, order.bits).is_good


def _drawing(order: ExportOrder) -> LayeredDrawing:
    cut = cut_stack(order.stack, order.bits, OUTLINE_CHORD)
    return layered_drawing(cut, outline_of(cut), order.units, order.show)


def _counted(drawing: LayeredDrawing) -> str:
    """What the drawing holds, in words."""
    paths = [path for layer in drawing.layers if layer.name == "SECTION" for path in layer.paths]
    axes = sum(len(layer.paths) for layer in drawing.layers if layer.name.startswith("AXIS_"))
    told = []
    if paths:
        pieces = sum(len(path.segments) for path in paths)
        told.append(f"section of {pieces} lines and arcs")
    if axes:
        told.append(f"{axes} {'axis' if axes == 1 else 'axes'} in plan")
    return ", ".join(told)
