"""What the section says about a place when the pointer rests there."""

from __future__ import annotations

from typing import TYPE_CHECKING

import shapely
from PySide6.QtCore import QPointF

from profilestack.desktop.section.keys import KEYS
from profilestack.desktop.section.wood import stretch_of
from profilestack.session.whereabouts import length_text

if TYPE_CHECKING:
    from profilestack.desktop.section.view import SectionView

NEAR = 8.0
"""A stretch so near to the pointer [px] is the one that is meant."""


def tip_at(view: SectionView, pixel: QPointF) -> str:
    """One or two sentences; "" where there is nothing to say."""
    document = view.document
    if pixel.x() < view.ruler_edge and pixel.y() < view.ruler_depth:
        return KEYS
    reason = _unreached(view, pixel)
    if reason:
        return reason
    index = view.balloon_at(pixel)
    if index is None:
        return ""
    single = document.stack.passes[index]
    bit = document.session.bits.get(single.bit)
    offset, depth = (length_text(value, document.units) for value in (single.offset, single.depth))
    name = single.bit if bit is None else bit.name
    return (
        f"Pass {index + 1}: {name}, edge to bit centre {offset}, below face {depth}. "
        "Drag it, or choose it and use the arrow keys or type its numbers."
    )


def _unreached(view: SectionView, pixel: QPointF) -> str:
    """Why no bit reaches the stretch of the wanted profile at a place."""
    report = view.document.report
    if report is None or report.comparison is None:
        return ""
    place = shapely.Point(view.place_of(pixel))
    for stretch in view.document.unreached:
        chain = stretch_of(report.comparison.target, stretch.begin, stretch.end)
        if shapely.LineString(chain).distance(place) * view.axis.scale <= NEAR:
            return f"Not reached: {stretch.why}"
    return ""
