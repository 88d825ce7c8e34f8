"""Drawings that were written, read by the project's own readers; lengths in mm."""

from __future__ import annotations

from profilestack.cutting.cut import Cut, cut_stack
from profilestack.cutting.outline import OUTLINE_CHORD, outline_of
from profilestack.files.exports.layered import LayeredDrawing, Show, layered_drawing
from profilestack.files.shipped import shipped_examples_dir
from profilestack.files.targets import ReadingWishes
from profilestack.files.targets.dxf import read_dxf
from profilestack.files.targets.svg import read_svg
from profilestack.geometry.crossing import distance_to, point_on
from profilestack.geometry.path import Path
from profilestack.jobs.opening import open_stack
from profilestack.targets.tracing import Chain

EXAMPLES = (
    "cornice/crown", "cornice/bow", "half-column/flutes", "half-column/rings", "shelf-rail/rail",
    "ogee/small",
)  # fmt: skip


def example(name: str) -> Cut:
    """A shipped example, cut as finely as its outline is told."""
    opened = open_stack(shipped_examples_dir() / f"{name}.stack.toml")
    return cut_stack(opened.stack, opened.bits, OUTLINE_CHORD)


def drawn(done: Cut, units: str = "mm", show: Show = "both") -> LayeredDrawing:
    return layered_drawing(done, outline_of(done), units, show)


def layer(drawing: LayeredDrawing, name: str) -> tuple[Path, ...]:
    return next(each.paths for each in drawing.layers if each.name == name)


def read_layer(data: bytes, name: str, units: str | None = None) -> tuple[Chain, ...]:
    """The chains of one layer, in mm whatever the file's units are."""
    reader = read_svg if data.startswith(b"<?xml") else read_dxf
    return reader(data, ReadingWishes(units=units, layers=(name,))).chains


def apart(paths: tuple[Path, ...], chains: tuple[Chain, ...]) -> float:
    """The largest distance between exact paths and what was read, both ways [mm].

    Both are flattened finely, and one of them compared by its points with the pieces of the other.
    """
    exact = [piece for path in paths for piece in path.segments]
    read = [piece for chain in chains for piece in chain.pieces]
    return max(_farthest(exact, read), _farthest(read, exact))


def _farthest(pieces: list, others: list) -> float:
    """From points along some pieces to the nearest of others, exactly [mm]."""
    points = [point_on(piece, share / 8.0) for piece in pieces for share in range(9)]
    return max(min(distance_to(other, point) for other in others) for point in points)
