"""What a PDF's page really draws, in points: read from its content stream."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

Color = tuple[float, ...]


@dataclass
class Chain:
    """Points [pt] that were stroked or filled, the colour, and the clip that held (a ring)."""

    points: np.ndarray
    color: Color
    clip: np.ndarray | None
    width: float


@dataclass
class Drawn:
    """All that a page draws but for its words."""

    strokes: list[Chain] = field(default_factory=list)
    fills: list[Chain] = field(default_factory=list)

    def bars(self, axis: int, length: float, within: float) -> list[np.ndarray]:
        """Straight strokes of two points along an axis, so long [pt] within a tolerance."""
        return [
            chain.points
            for chain in self.strokes
            if len(chain.points) == 2
            and np.ptp(chain.points[:, 1 - axis]) < 1e-6
            and abs(np.ptp(chain.points[:, axis]) - length) <= within
        ]


def pages_of(data: bytes) -> list[PageObject]:
    return list(PdfReader(io.BytesIO(data)).pages)


def drawn_on(page: PageObject) -> Drawn:
    walker = _Walker()
    for operands, code in ContentStream(page.get_contents(), page.pdf).operations:
        step = _STEPS.get(code)
        if step is not None:
            getattr(walker, step)(*[float(each) for each in operands])
    return walker.found


class _Walker:
    """The state of the page while its operators are walked."""

    def __init__(self) -> None:
        self.found = Drawn()
        self.matrix = np.eye(3)
        self.clip: np.ndarray | None = None
        self.ink: Color = ()
        self.paint: Color = ()
        self.width = 1.0
        self.kept: list[tuple[np.ndarray, np.ndarray | None, Color, Color, float]] = []
        self.chains: list[list[tuple[float, float]]] = []
        self.clipping = False

    def place(self, x: float, y: float) -> tuple[float, float]:
        px, py, _ = np.array((x, y, 1.0)) @ self.matrix
        return (float(px), float(py))

    def save(self) -> None:
        self.kept.append((self.matrix, self.clip, self.ink, self.paint, self.width))

    def restore(self) -> None:
        self.matrix, self.clip, self.ink, self.paint, self.width = self.kept.pop()

    def transform(self, *numbers: float) -> None:
        a, b, c, d, e, f = numbers
        self.matrix = np.array(((a, b, 0.0), (c, d, 0.0), (e, f, 1.0))) @ self.matrix

    def move(self, x: float, y: float) -> None:
        self.chains.append([self.place(x, y)])

    def line(self, x: float, y: float) -> None:
        self.chains[-1].append(self.place(x, y))

    def close(self) -> None:
        self.chains[-1].append(self.chains[-1][0])

    def rectangle(self, x: float, y: float, w: float, h: float) -> None:
        corners = ((x, y), (x + w, y), (x + w, y + h), (x, y + h))
        self.chains.append([self.place(*corner) for corner in corners])

    def start_clip(self) -> None:
        self.clipping = True

    def end(self) -> None:
        if self.clipping:
            self.clip = np.array(self.chains[-1])
        self.chains, self.clipping = [], False

    def stroke(self) -> None:
        self.found.strokes += self._painted(self.ink)
        self.end()

    def fill(self) -> None:
        self.found.fills += self._painted(self.paint)
        self.end()

    def set_ink(self, *color: float) -> None:
        self.ink = color

    def set_paint(self, *color: float) -> None:
        self.paint = color

    def set_width(self, width: float) -> None:
        self.width = width

    def _painted(self, color: Color) -> Sequence[Chain]:
        return [Chain(np.array(chain), color, self.clip, self.width) for chain in self.chains]


_STEPS = {
    b"q": "save",
    b"Q": "restore",
    b"cm": "transform",
    b"m": "move",
    b"l": "line",
    b"h": "close",
    b"re": "rectangle",
    b"W": "start_clip",
    b"W*": "start_clip",
    b"n": "end",
    b"S": "stroke",
    b"f": "fill",
    b"f*": "fill",
    b"RG": "set_ink",
    b"rg": "set_paint",
    b"w": "set_width",
}
