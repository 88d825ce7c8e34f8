"""Readers of foreign files: tables of points, DXF, SVG, pictures. One file and one line each."""

from __future__ import annotations

from collections.abc import Callable

from profilestack.files.targets.wishes import PictureWishes, ReadingWishes
from profilestack.targets.tracing import Tracing

__all__ = ["READERS", "PictureWishes", "ReadingWishes"]

Reader = Callable[[bytes, ReadingWishes], Tracing]

READERS: dict[str, str] = {
    ".csv": "points_csv:read_points",
    ".txt": "points_csv:read_points",
    ".tsv": "points_csv:read_points",
    ".xyz": "points_csv:read_points",
    ".dxf": "dxf:read_dxf",
    ".svg": "svg:read_svg",
    ".png": "picture:read_picture",
    ".jpg": "picture:read_picture",
    ".jpeg": "picture:read_picture",
    ".bmp": "picture:read_picture",
    ".tif": "picture:read_picture",
    ".tiff": "picture:read_picture",
}
"""Which reader, by module and function, for which ending: its libraries load only when used."""
