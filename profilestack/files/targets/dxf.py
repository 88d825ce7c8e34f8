"""Profiles from DXF: LINE, ARC, CIRCLE, LWPOLYLINE, POLYLINE, ELLIPSE, SPLINE and INSERT.

The drawing's x and y are the section's x and z. Lines, arcs and bulges stay exact. Copies of blocks
are counted before one of them is made, so that a small file cannot become a large one.
"""

from __future__ import annotations

import logging
import math
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from io import BytesIO
from typing import TYPE_CHECKING, Any

from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.targets.budget import Budget
from profilestack.files.targets.dxf_shapes import SHAPES
from profilestack.files.targets.wishes import (
    DEEPEST,
    MOST_ELEMENTS,
    ReadingWishes,
)
from profilestack.targets.tracing import FINE, Chain, Tracing, stretched
from profilestack.units import MILLIMETRES

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dxfentity import DXFEntity
    from ezdxf.entities.dxfgfx import DXFGraphic
    from ezdxf.entities.insert import Insert

TOLERANCE = 0.02
"""Drawn curves are reduced to arcs within this, unless another tolerance is chosen [mm]."""

MOST_PARTS = 100_000
"""A file may have so many parts of any kind: entities, vertices, table entries."""

MOST_LINES = 600_000
"""A file may have so many lines: the DXF library takes some seconds for these."""

INSUNITS: dict[int, tuple[float, str]] = {
    1: (float(MILLIMETRES["in"]), "in"),
    2: (12.0 * float(MILLIMETRES["in"]), "in"),
    4: (1.0, "mm"),
    5: (10.0, "mm"),
    6: (1000.0, "mm"),
    8: (1e-6 * float(MILLIMETRES["in"]), "in"),
    9: (1e-3 * float(MILLIMETRES["in"]), "in"),
    10: (36.0 * float(MILLIMETRES["in"]), "in"),
    13: (1e-3, "mm"),
    14: (100.0, "mm"),
}
"""``$INSUNITS``: one drawing unit [mm], and what to show lengths in (the DXF reference, memory)."""

_OTHER_KINDS = {
    b"AC10": "a DWG drawing; save it as DXF",
    b"AutoCAD Binary DXF": "a binary DXF; save it as text (ASCII) DXF",
    b"%PDF": "a PDF; export DXF or SVG instead",
    b"\x89PNG": "a PNG picture; rename it to .png",
    b"\xff\xd8\xff": "a JPEG picture; rename it to .jpg",
    b"PK\x03\x04": "a packed (ZIP) file; unpack it",
    b"<?xml": "an XML file; if it is an SVG, rename it to .svg",
    b"<svg": "an SVG drawing; rename it to .svg",
}


def read_dxf(data: bytes, wishes: ReadingWishes) -> Tracing:
    """The lines, arcs and curves of a DXF drawing.

    Raises:
        InputError: it is no DXF, cut off, without units, too large, or holds impossible values.
    """
    _refuse_kind(data)
    document = _loaded(data)
    scale, units, notes = _units(document, wishes)
    walk = _Walk(scale, _layers(document, wishes))
    _count_copies(document)
    for entity in document.modelspace():
        walk.take(entity, _layer_of(entity))
    notes += walk.notes()
    if not walk.chains:
        layers = f" on {', '.join(wishes.layers)}" if wishes.layers else ""
        told = f"shows no line, arc or curve{layers}"
        raise InputError(Problem("", told, "a drawn profile", "; ".join(walk.notes())))
    return Tracing(tuple(walk.chains), units, TOLERANCE, tuple(notes))


def _refuse_kind(data: bytes) -> None:
    """Tell a file of another kind, a cut-off one and one of too many parts before reading it."""
    for mark, told in _OTHER_KINDS.items():
        if data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(mark):
            raise InputError(Problem("", f"is no text DXF: it is {told}"))
    head = data[:4096]
    if b"\0" in head or not re.search(rb"(^|\n)\s*0\s*\r?\n\s*SECTION\s*\r?\n", head):
        raise InputError(Problem("", "is no DXF: no SECTION begins in it", "a DXF drawing"))
    tail = data[-256:].split()
    if not tail or tail[-1] != b"EOF":
        raise InputError(
            Problem("", "is cut off: its last line is not EOF", "a whole DXF", "save it again")
        )
    if data.count(b"\n") > MOST_LINES:
        told = f"has more than {MOST_LINES} lines"
        raise InputError(Problem("", told, "a simpler drawing", "save the profile alone"))
    parts = sum(1 for _ in re.finditer(rb"\n[ \t]*0[ \t]*\r?\n[ \t]*[A-Z]", data))
    if parts > MOST_PARTS:
        told = f"has {parts} parts (entities, vertices, table entries)"
        raise InputError(Problem("", told, f"at most {MOST_PARTS}", "save the profile alone"))


def _loaded(data: bytes) -> Drawing:
    from ezdxf import recover
    from ezdxf.lldxf.const import DXFError

    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)
    try:
        document, _ = recover.read(BytesIO(data))
    except (DXFError, ValueError, TypeError, LookupError, AttributeError, AssertionError) as error:
        reason = str(error) or type(error).__name__
        raise InputError(Problem("", f"cannot be understood as DXF: {reason}"[:300])) from None
    return document


def _units(document: Drawing, wishes: ReadingWishes) -> tuple[float, str, list[str]]:
    """One drawing unit [mm], the units to show, and notes."""
    code = document.header.get("$INSUNITS", 0)
    known = INSUNITS.get(code) if isinstance(code, int) else None
    if wishes.units is not None:
        scale = float(MILLIMETRES[wishes.units])
        if known is not None and not math.isclose(known[0], scale):
            told = f"the drawing says one unit is {known[0]:g} mm; it was read as {wishes.units}"
            return scale, wishes.units, [told]
        return scale, wishes.units, []
    if known is None:
        said = "does not say its units ($INSUNITS is absent or 0)"
        if code:
            said = f"has units that no shop uses ($INSUNITS {code})"
        raise InputError(
            Problem("units", said, "mm or inches", "say which: --units-of-file mm or in")
        )
    return known[0], known[1], []


def _layers(document: Drawing, wishes: ReadingWishes) -> _Layers:
    names = {layer.dxf.name for layer in document.layers}
    names |= {_layer_of(entity) for entity in document.entitydb.values()}
    known = {name.lower(): name for name in names}
    problems = [
        Problem("layer", f"there is no layer {name!r}",
                f"one of {', '.join(sorted(known.values())[:20])}", nearest_word(name, names))
        for name in wishes.layers if name.lower() not in known
    ]  # fmt: skip
    if problems:
        raise InputError(problems)
    hidden = frozenset(
        layer.dxf.name.lower() for layer in document.layers if layer.is_off() or layer.is_frozen()
    )
    return _Layers(frozenset(name.lower() for name in wishes.layers), hidden)


def _layer_of(entity: DXFEntity) -> str:
    """The layer of an entity; kinds that the library does not know have none."""
    return str(entity.dxf.get("layer", "0")) if entity.dxf.is_supported("layer") else "0"


@dataclass(frozen=True, slots=True)
class _Layers:
    """The layers asked for (all when empty), and those switched off; lower case."""

    wanted: frozenset[str]
    hidden: frozenset[str]

    def show(self, layer: str) -> bool:
        """Whether what lies on the layer is read."""
        name = layer.lower()
        return name in self.wanted if self.wanted else name not in self.hidden


def _count_copies(document: Drawing) -> None:
    """Refuse blocks that hold themselves, lie too deep or would give too many entities."""
    counted: dict[str, int] = {}

    def cost(name: str, above: tuple[str, ...]) -> int:
        if name in above:
            raise InputError(Problem("", f"block {name!r} holds itself", "blocks without a ring"))
        if len(above) >= DEEPEST:
            raise InputError(Problem("", f"blocks lie deeper than {DEEPEST} in each other"))
        if name not in counted:
            block = document.blocks.get(name)
            total = 0
            for entity in block or ():
                total += entity_cost(entity, (*above, name))
            counted[name] = total
        return counted[name]

    def entity_cost(entity: DXFGraphic, above: tuple[str, ...]) -> int:
        if entity.dxftype() != "INSERT":
            return 1
        rows = max(1, entity.dxf.get("row_count", 1))
        columns = max(1, entity.dxf.get("column_count", 1))
        copies: int = rows * columns * max(1, cost(entity.dxf.get("name", ""), above))
        if copies > MOST_ELEMENTS:
            name = entity.dxf.get("name", "")
            told = f"the copies of block {name!r} would make {copies} lines and curves"
            raise InputError(Problem("", told, f"at most {MOST_ELEMENTS}"))
        return copies

    total = 0
    for entity in document.modelspace():
        total += entity_cost(entity, ())
        if total > MOST_ELEMENTS:
            told = f"shows more than {MOST_ELEMENTS} lines and curves"
            raise InputError(Problem("", told, "one profile", "choose its layer, or save it alone"))


@dataclass(slots=True)
class _Walk:
    """Takes entities one by one: chains [mm], and what was left out."""

    scale: float
    layers: _Layers
    chains: list[Chain] = field(default_factory=list)
    left_out: Counter[str] = field(default_factory=Counter)
    hidden: int = 0
    budget: Budget = field(default_factory=Budget)

    def take(self, entity: DXFGraphic, layer: str) -> None:
        """One entity; a copy of a block gives all that it holds."""
        kind = entity.dxftype()
        if kind == "INSERT":
            for inner, inner_layer in _inner(entity, layer):  # type: ignore[arg-type]  # by its kind
                self.take(inner, inner_layer)
            return
        if not self.layers.show(layer):
            self.hidden += 1
            return
        shape = SHAPES.get(kind)
        if shape is None:
            self.left_out[kind] += 1
            return
        where = f"{kind} on layer {layer!r}"
        if entity.dxf.get("handle"):
            where += f", handle {entity.dxf.handle}"
        try:
            chains = shape(entity, FINE / self.scale)
        except InputError as error:
            raise InputError(replace(p, where=where) for p in error.problems) from None
        for chain in chains:
            self._add(replace(chain, label=f"layer {layer}"), where)

    def _add(self, chain: Chain, where: str) -> None:
        scaled = stretched(chain, self.scale, self.scale)
        self.budget.add(scaled, where)
        self.chains.append(scaled)

    def notes(self) -> list[str]:
        """What was left out, in words."""
        found = []
        if self.left_out:
            listed = ", ".join(f"{count} {kind}" for kind, count in sorted(self.left_out.items()))
            found.append(f"left out: {listed}")
        if self.hidden and not self.layers.wanted:
            found.append(f"left out: {self.hidden} on layers that are off or frozen")
        return found


def _inner(insert: Insert, layer: str) -> Iterator[tuple[DXFGraphic, str]]:
    """What one INSERT shows, every row and column of it; layer 0 takes the INSERT's layer."""
    if not insert.dxf.hasattr("insert"):
        raise InputError(Problem(f"INSERT of {insert.dxf.get('name', '')!r}", "has no place"))
    placing: tuple[Any, ...] = (
        *insert.dxf.insert, insert.dxf.get("xscale", 1.0), insert.dxf.get("yscale", 1.0),
        insert.dxf.get("rotation", 0.0), insert.dxf.get("row_spacing", 0.0),
        insert.dxf.get("column_spacing", 0.0),
    )  # fmt: skip
    if not all(math.isfinite(value) for value in placing):
        name = insert.dxf.get("name", "")
        raise InputError(Problem(f"INSERT of {name!r}", "its place or scale is not finite"))
    for single in insert.multi_insert():
        for entity in single.virtual_entities():
            own = _layer_of(entity)
            yield entity, layer if own == "0" else own
