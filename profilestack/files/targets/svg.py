"""Profiles from SVG: paths and plain shapes, with transforms and physical size.

The drawing's y runs down; the section's z runs up. Only what would be stroked or filled is read:
not definitions, clipping paths, patterns, texts or pictures.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import dataclass, field
from io import BytesIO
from typing import TYPE_CHECKING
from xml.etree.ElementTree import ParseError

from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.targets.budget import Budget
from profilestack.files.targets.svg_geometry import Affine, affine_from, placed_piece
from profilestack.files.targets.svg_path import Subpath
from profilestack.files.targets.svg_shapes import SHAPES
from profilestack.files.targets.wishes import (
    DEEPEST,
    MOST_ELEMENTS,
    ReadingWishes,
)
from profilestack.targets.tracing import FINE, Chain, Tracing
from profilestack.units import MILLIMETRES

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

TOLERANCE = 0.02
"""Drawn curves are reduced to arcs within this, unless another tolerance is chosen [mm]."""

MOST_CHARACTERS = 2**20
"""So much text of paths is read."""

_INCH = float(MILLIMETRES["in"])
PHYSICAL = {"mm": 1.0, "cm": 10.0, "q": 0.25, "in": _INCH, "pt": _INCH / 72.0, "pc": _INCH / 6.0}
"""Units of a physical size [mm]; px is none (CSS Values, section "Absolute lengths", memory)."""

_GROUPS = {"svg", "g", "a", "switch"}
_SILENT = {
    "defs", "symbol", "clippath", "mask", "pattern", "marker", "lineargradient", "radialgradient",
    "filter", "style", "script", "title", "desc", "metadata", "namedview", "animate", "set",
    "animatetransform", "animatemotion",
}  # fmt: skip
_XLINK = "{http://www.w3.org/1999/xlink}href"
_LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"


def read_svg(data: bytes, wishes: ReadingWishes) -> Tracing:
    """The outlines of an SVG drawing.

    Raises:
        InputError: it is no SVG, hostile, without a physical size, or shows nothing.
    """
    root, by_id = _parsed(data)
    scale, units, notes = _scale(root, wishes)
    walk = _Walk(root, by_id, tuple(name.lower() for name in wishes.layers))
    # the drawing turned upright: y down becomes z up
    walk.take(root, Affine(scale[0], 0.0, 0.0, -scale[1], 0.0, 0.0), (), "", False)
    walk.refuse_unknown_layers(wishes.layers)
    notes += walk.notes()
    if not walk.chains:
        layers = f" in {', '.join(wishes.layers)}" if wishes.layers else ""
        told = f"shows no path and no shape{layers}"
        raise InputError(Problem("", told, "a drawn profile", "; ".join(walk.notes())))
    return Tracing(tuple(walk.chains), units, TOLERANCE, tuple(notes))


def _parsed(data: bytes) -> tuple[Element, dict[str, Element]]:
    """The root element and all elements that have an id."""
    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import iterparse

    if data[:2] == b"\x1f\x8b":
        raise InputError(Problem("", "is a packed SVG (svgz)", "a plain SVG", "save it unpacked"))
    by_id: dict[str, Element] = {}
    depth = count = 0
    root: Element | None = None
    try:
        for event, element in iterparse(BytesIO(data), events=("start", "end")):
            if event == "end":
                depth -= 1
                continue
            root = element if root is None else root
            depth, count = depth + 1, count + 1
            if depth > DEEPEST:
                raise InputError(Problem("", f"is nested deeper than {DEEPEST} elements"))
            if count > MOST_ELEMENTS:
                raise InputError(Problem("", f"has more than {MOST_ELEMENTS} elements"))
            if (name := element.get("id")) is not None:
                by_id.setdefault(name, element)
    except DefusedXmlException as error:
        told = f"uses entities or outside files ({type(error).__name__}), which are not read"
        raise InputError(Problem("", told, "a plain SVG", "save it as plain SVG")) from None
    except (ParseError, ValueError, LookupError) as error:
        line = getattr(error, "position", (None,))[0]
        told = f"is no whole XML: {error}"
        raise InputError(Problem("", told, "an SVG drawing", line=line)) from None
    assert root is not None, "an XML text without a root is refused above"
    if _tag(root) != "svg":
        raise InputError(Problem("", f"is no SVG: its root is {_tag(root)}", "an SVG drawing"))
    return root, by_id


def _scale(root: Element, wishes: ReadingWishes) -> tuple[tuple[float, float], str, list[str]]:
    """One user unit in x and y [mm], the units to show, and notes."""
    box = _view_box(root)
    sizes = [_size(root.get(key, "")) for key in ("width", "height")]
    if wishes.units is not None:
        scale = float(MILLIMETRES[wishes.units])
        return (scale, scale), wishes.units, []
    if wishes.picture.dpi is not None:
        scale = _INCH / wishes.picture.dpi
        return (scale, scale), "mm", []
    physical = [size for size in sizes if size is not None]
    if not physical:
        had = " and ".join(
            f'{key}="{root.get(key)}"' for key in ("width", "height") if root.get(key)
        )
        told = f"has no physical size ({had or 'neither width nor height'})"
        raise InputError(
            Problem("units", told, "width and height in mm or in",
                    "say what its numbers are: --units-of-file mm or in, or --dpi 96")
        )  # fmt: skip
    units = "in" if physical[0][1] == "in" else "mm"
    if box is None:
        # without a viewBox a user unit is a CSS pixel, 1/96 in, whatever the size is given in
        return (_INCH / 96.0, _INCH / 96.0), units, []
    ratios = [
        None if size is None else size[0] / length
        for size, length in zip(sizes, box[2:], strict=True)
    ]
    given = [ratio for ratio in ratios if ratio is not None]
    if root.get("preserveAspectRatio", "").strip() == "none" and len(given) == 2:
        return (given[0], given[1]), units, []
    scale = min(given)
    if not 1e-9 <= scale <= 1e9:
        raise InputError(Problem("viewBox", f"makes one unit {scale:g} mm", "a usual size"))
    return (scale, scale), units, []


def _size(text: str) -> tuple[float, str] | None:
    """A physical length [mm] and its unit, or None for pixels, percents and nothing."""
    match = re.fullmatch(r"\s*([+]?[\d.]+(?:[eE][+-]?\d+)?)\s*([a-zA-Z%]*)\s*", text[:64])
    if match is None or match.group(2).lower() not in PHYSICAL:
        return None
    try:
        value = float(match.group(1))
    except ValueError:
        return None
    if not (math.isfinite(value) and value > 0.0):
        return None
    unit = match.group(2).lower()
    return value * PHYSICAL[unit], unit


def _view_box(root: Element) -> tuple[float, float, float, float] | None:
    text = root.get("viewBox", "")
    if not text.strip():
        return None
    try:
        x, y, width, height = (float(word) for word in re.split(r"[\s,]+", text.strip())[:5])
    except ValueError:
        raise InputError(Problem("viewBox", f"{text[:40]!r} is none", "four numbers")) from None
    if not (all(map(math.isfinite, (x, y, width, height))) and width > 0.0 and height > 0.0):
        raise InputError(Problem("viewBox", f"{text[:40]!r} has no size", "four numbers"))
    return x, y, width, height


def _tag(element: Element) -> str:
    """The element's name, lower case, without its name space."""
    return element.tag.rpartition("}")[2].lower()


@dataclass(slots=True)
class _Walk:
    """Walks the elements: chains [mm], and what was left out."""

    root: Element
    by_id: dict[str, Element]
    wanted: tuple[str, ...]
    chains: list[Chain] = field(default_factory=list)
    left_out: Counter[str] = field(default_factory=Counter)
    names: set[str] = field(default_factory=set)
    hidden: int = 0
    elements: int = 0
    budget: Budget = field(default_factory=Budget)
    characters: int = 0
    shapes: dict[Element, list[Subpath]] = field(default_factory=dict)

    def take(
        self, element: Element, above: Affine, uses: tuple[str, ...], label: str, inside: bool
    ) -> None:
        """One element; ``inside`` tells that a layer asked for holds it."""
        tag = _tag(element)
        if tag in _SILENT:
            return
        self.elements += 1
        if self.elements > MOST_ELEMENTS:
            raise InputError(
                Problem("", f"shows more than {MOST_ELEMENTS} elements once all uses are counted")
            )
        own = [name for name in (element.get(_LABEL), element.get("id")) if name]
        self.names.update(own)
        inside = inside or not self.wanted or any(name.lower() in self.wanted for name in own)
        if _is_hidden(element) and not (self.wanted and own and inside):
            self.hidden += 1
            return
        where = own[0] if own else label
        matrix = above.then(affine_from(element.get("transform", ""), where))
        if tag in _GROUPS:
            if tag == "svg" and element is not self.root:
                matrix = matrix.then(_nested(element))
            for child in element:
                self.take(child, matrix, uses, where, inside)
        elif tag == "use":
            self._use(element, matrix, uses, where, inside)
        elif tag in SHAPES:
            if inside:
                self._draw(self._shape(element, tag, where), matrix, where)
        else:
            self.left_out[tag] += 1

    def _shape(self, element: Element, tag: str, where: str) -> list[Subpath]:
        """What an element draws; read once, however often it is used."""
        if element not in self.shapes:
            # a path that draws nothing costs time all the same
            self.characters += len(element.get("d", "")) + len(element.get("points", ""))
            if self.characters > MOST_CHARACTERS:
                told = f"has more than {MOST_CHARACTERS // 2**20} MiB of paths"
                raise InputError(Problem("", told, "a simpler drawing"))
            try:
                self.shapes[element] = SHAPES[tag](element, where)
            except (OverflowError, ZeroDivisionError):
                raise InputError(Problem(where, "has numbers too large to draw")) from None
        return self.shapes[element]

    def _use(
        self, element: Element, matrix: Affine, uses: tuple[str, ...], label: str, inside: bool
    ) -> None:
        name = (element.get("href") or element.get(_XLINK) or "").removeprefix("#")
        if name in uses:
            raise InputError(Problem("", f"element {name!r} uses itself", "uses without a ring"))
        if len(uses) >= DEEPEST:
            raise InputError(Problem("", f"uses lie deeper than {DEEPEST} in each other"))
        shown = self.by_id.get(name)
        if shown is None:
            self.left_out["use of what is not there"] += 1
            return
        x, y = (_number(element.get(key, "0"), label) for key in ("x", "y"))
        matrix = matrix.then(Affine(1.0, 0.0, 0.0, 1.0, x, y))
        children = list(shown) if _tag(shown) == "symbol" else [shown]
        for child in children:
            self.take(child, matrix, (*uses, name), label or name, inside)

    def _draw(self, drawn: list[Subpath], matrix: Affine, label: str) -> None:
        for subpath in drawn:
            try:
                pieces = tuple(placed_piece(piece, matrix, FINE) for piece in subpath)
            except (OverflowError, ZeroDivisionError):
                raise InputError(Problem(label, "has numbers too large to draw")) from None
            chain = Chain(tuple(p for p in pieces if p.length > 1e-9), label)
            if not chain.pieces:
                continue
            self.budget.add(chain, label)
            self.chains.append(chain)

    def refuse_unknown_layers(self, layers: tuple[str, ...]) -> None:
        """Name the layers asked for that are not there."""
        known = {name.lower() for name in self.names}
        listed = ", ".join(sorted(self.names)[:20]) or "none has a name"
        problems = [
            Problem("layer", f"no group or shape is called {name!r}", f"one of {listed}",
                    nearest_word(name, self.names))
            for name in layers if name.lower() not in known
        ]  # fmt: skip
        if problems:
            raise InputError(problems)

    def notes(self) -> list[str]:
        """What was left out, in words."""
        found = []
        if self.left_out:
            listed = ", ".join(f"{count} {kind}" for kind, count in sorted(self.left_out.items()))
            found.append(f"left out: {listed}")
        if self.hidden:
            found.append(f"left out: {self.hidden} hidden")
        return found


def _nested(element: Element) -> Affine:
    """What an inner svg element does to its children: moved, scaled to its viewBox."""
    x, y = (_number(element.get(key, "0"), "svg") for key in ("x", "y"))
    moved = Affine(1.0, 0.0, 0.0, 1.0, x, y)
    box = _view_box(element)
    if box is None or not (element.get("width") and element.get("height")):
        return moved
    width, height = (_number(element.get(key, "0"), "svg") for key in ("width", "height"))
    scale = min(width / box[2], height / box[3])
    return moved.then(Affine(scale, 0.0, 0.0, scale, -box[0] * scale, -box[1] * scale))


def _is_hidden(element: Element) -> bool:
    style = re.sub(r"\s+", "", element.get("style", "")[:2000]).lower()
    return (
        element.get("display") == "none"
        or element.get("visibility") in ("hidden", "collapse")
        or "display:none" in style
        or "visibility:hidden" in style
    )


def _number(text: str, where: str) -> float:
    match = re.match(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(px)?\s*$", text[:64])
    value = float(match.group(1)) if match else math.nan
    if not math.isfinite(value):
        raise InputError(Problem(where, f"{text[:40]!r} is no number", "a plain number"))
    return value
