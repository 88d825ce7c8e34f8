"""Drawings as pictures: PNG, SVG and PDF by matplotlib, without any window or global figure."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Literal, get_args

import numpy as np

from profilestack.drawing.drawing import Drawing, Fill, Lines, Mark, Window, Words
from profilestack.drawing.fonts import POINT, face
from profilestack.drawing.palette import Pen
from profilestack.geometry.path import Points
from profilestack.units import INCH

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.path import Path as DrawnPath

Kind = Literal["png", "svg", "pdf"]

KINDS: tuple[str, ...] = get_args(Kind)
"""What a picture can be written as."""

DOTS_PER_INCH = 200

_SETTINGS: Any = {
    "path.simplify": False,
    "agg.path.chunksize": 0,
    "lines.scale_dashes": False,
    "svg.hashsalt": "profilestack",
    "svg.fonttype": "path",
    "pdf.fonttype": 42,
    "pdf.compression": 6,
    "text.usetex": False,
    "savefig.bbox": None,
    "savefig.facecolor": "auto",
    "figure.autolayout": False,
    "figure.constrained_layout.use": False,
}

_METADATA: dict[str, dict[str, None]] = {
    "png": {"Software": None},
    "svg": {"Date": None, "Creator": None},
    "pdf": {"CreationDate": None, "Producer": None, "Creator": None},
}
"""Nothing that changes from day to day may stand in a file."""


def draw_figure(drawing: Drawing) -> Figure:
    """The drawing as a figure of its own size, one axis in mm filling it."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    with _settled():
        figure = Figure(
            figsize=(drawing.width / float(INCH), drawing.height / float(INCH)),
            facecolor=drawing.paper or "white",
        )
        FigureCanvasAgg(figure)
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set_axis_off()
        axes.set_xlim(0.0, drawing.width)
        axes.set_ylim(0.0, drawing.height)
        for order, artist in enumerate(_draw_marks(axes, drawing.marks)):
            artist.set_zorder(order)
    return figure


def picture_bytes(drawing: Drawing, kind: Kind, dots_per_inch: int = DOTS_PER_INCH) -> bytes:
    """The drawing as the bytes of a file, the same at every call."""
    figure = draw_figure(drawing)
    kept = io.BytesIO()
    with _settled():
        figure.savefig(kept, format=kind, dpi=dots_per_inch, metadata=_METADATA[kind])
    data = kept.getvalue()
    return _in_millimetres(data, drawing) if kind == "svg" else data


@contextmanager
def _settled() -> Iterator[None]:
    """Settings that keep curves true and bytes the same, whatever the user's own are."""
    import matplotlib

    with matplotlib.rc_context(_SETTINGS):
        yield


def _in_millimetres(data: bytes, drawing: Drawing) -> bytes:
    """The SVG with its size in mm instead of points."""
    size = f'width="{drawing.width:.4f}mm" height="{drawing.height:.4f}mm"'.encode()
    changed, count = re.subn(rb'width="[0-9.]+pt" height="[0-9.]+pt"', size, data, count=1)
    if count != 1:
        raise RuntimeError("the SVG writer gave no size in points")
    return changed


def _draw_marks(axes: Axes, marks: Iterable[Mark]) -> Iterator[Artist]:
    for mark in marks:
        if isinstance(mark, Fill):
            yield _draw_fill(axes, mark)
        elif isinstance(mark, Lines):
            yield _draw_lines(axes, mark)
        elif isinstance(mark, Window):
            yield from _draw_window(axes, mark)
        else:
            yield _draw_words(axes, mark)


def _draw_window(axes: Axes, mark: Window) -> Iterator[Artist]:
    from matplotlib.patches import Rectangle

    edge = Rectangle(mark.at, mark.width, mark.height, transform=axes.transData)
    for artist in _draw_marks(axes, mark.marks):
        artist.set_clip_path(edge)
        artist.set_clip_on(True)
        yield artist


def _draw_fill(axes: Axes, mark: Fill) -> Artist:
    from matplotlib.patches import PathPatch

    path = _compound(mark.rings, closed=True)
    return axes.add_artist(PathPatch(path, facecolor=mark.color, edgecolor="none"))


def _draw_lines(axes: Axes, mark: Lines) -> Artist:
    from matplotlib.patches import PathPatch

    patch = PathPatch(
        _compound(mark.chains, mark.closed),
        facecolor="none",
        edgecolor=mark.pen.color,
        linewidth=mark.pen.width / POINT,
        linestyle=_dash(mark.pen),
        capstyle="butt" if mark.pen.dash else "round",
        joinstyle="round",
    )
    return axes.add_artist(patch)


def _draw_words(axes: Axes, mark: Words) -> Artist:
    from matplotlib.font_manager import FontProperties

    return axes.text(
        *mark.at,
        mark.text,
        fontproperties=FontProperties(fname=str(face(mark.bold).file), size=mark.size),
        color=mark.color,
        horizontalalignment={"start": "left", "middle": "center", "end": "right"}[mark.anchor],
        verticalalignment="baseline",
        rotation=mark.angle,
        rotation_mode="anchor",
        parse_math=False,
    )


def _dash(pen: Pen) -> Any:
    if not pen.dash:
        return "solid"
    return (0.0, tuple(part / POINT for part in pen.dash))


def _compound(chains: Iterable[Points], closed: bool) -> DrawnPath:
    """One path of several chains."""
    from matplotlib.path import Path as DrawnPath

    points, codes = [], []
    for chain in chains:
        code = np.full(len(chain), DrawnPath.LINETO, dtype=DrawnPath.code_type)
        code[0] = DrawnPath.MOVETO
        points.append(np.asarray(chain))
        codes.append(code)
        if closed:
            points.append(np.asarray(chain[:1]))
            codes.append(np.array((DrawnPath.CLOSEPOLY,), dtype=DrawnPath.code_type))
    return DrawnPath(np.concatenate(points), np.concatenate(codes))
