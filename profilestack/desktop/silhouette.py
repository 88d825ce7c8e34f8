"""The silhouette of a bit as a path to paint: tip down, in mm."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath, QPolygonF

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, silhouette_path

CHORD = 0.02
"""Arcs are told by chords that are off by no more than this [mm]."""


@lru_cache(maxsize=4096)
def silhouette(bit: Bit) -> QPainterPath:
    """All that the bit cuts: x [mm] from its axis to the right, y [mm] down, 0 at the tip."""
    points = silhouette_path(bit).flatten(CHORD)
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(x, -h) for x, h in points.tolist()]))
    path.closeSubpath()
    return path


@lru_cache(maxsize=4096)
def stem(bit: Bit, height: float) -> QPainterPath:
    """The shank from the end of the edge to ``height`` [mm] above the tip, in the same place."""
    path = QPainterPath()
    top = edge_height(bit)
    if height > top:
        path.addRect(QRectF(-bit.shank / 2.0, -height, bit.shank, height - top))
    return path


@lru_cache(maxsize=4096)
def pilot(bit: Bit) -> QPainterPath:
    """The bearing that hangs below the edge and does not cut; empty where there is none."""
    path = QPainterPath()
    if bit.pilot_diameter is not None and bit.pilot_length is not None:
        wide = bit.pilot_diameter
        path.addRect(QRectF(-wide / 2.0, 0.0, wide, bit.pilot_length))
    return path
