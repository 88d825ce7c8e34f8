"""The silhouette of a bit as a path to paint: tip down, in mm."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF, QTransform

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


def placing(bounds: QRectF, room: QRectF) -> QTransform:
    """Puts what lies in ``bounds`` [mm] on the bottom of ``room`` [pixels], as large as it goes."""
    wide = room.width() / max(bounds.width(), 1e-6)
    scale = min(wide, room.height() / max(bounds.height(), 1e-6))
    across = room.center().x() - scale * bounds.center().x()
    moved = QTransform.fromTranslate(across, room.bottom() - scale * bounds.bottom())
    return moved.scale(scale, scale)


def draw_silhouette(painter: QPainter, bit: Bit, room: QRectF, edge: QColor, shank: QColor) -> None:
    """Draw a bit as large as ``room`` allows: the edge filled, a stub of its shank in outline."""
    cut = silhouette(bit)
    high = edge_height(bit)
    rest = stem(bit, high + 0.3 * min(high, bit.length - high))
    place = placing(cut.boundingRect().united(rest.boundingRect()), room)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillPath(place.map(cut), edge)
    painter.strokePath(place.map(rest), QPen(shank, 1.0))
    painter.restore()
