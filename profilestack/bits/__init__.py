"""Router bits: shapes, the bits themselves, and libraries of them in memory."""

from profilestack.bits.bit import Bit
from profilestack.bits.edge import (
    edge_height,
    edge_path,
    has_undercut,
    largest_radius,
    radius_at,
    silhouette_path,
)
from profilestack.bits.shapes import SHAPES
from profilestack.bits.shapes.base import BitShape

__all__ = [
    "SHAPES",
    "Bit",
    "BitShape",
    "edge_height",
    "edge_path",
    "has_undercut",
    "largest_radius",
    "radius_at",
    "silhouette_path",
]
