"""The numbers over the bits' axes: edge to bit centre, depth below the face, the pass."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from profilestack.cutting.cut import Cut
from profilestack.drawing.axes import Axis
from profilestack.drawing.balloons import BALLOON, Balloon, balloons_of, numbered
from profilestack.drawing.drawing import Fill, Mark, line, words
from profilestack.drawing.fonts import text_width
from profilestack.drawing.palette import INK, LEADER_PEN, SMALL, WHITE
from profilestack.drawing.placing import Placing
from profilestack.drawing.wording import number_text


def axis_labels(cut: Cut, axes: Sequence[Axis], placing: Placing, units: str) -> list[Mark]:
    """Over each axis "edge to bit centre | below face", then the pass's number."""
    texts = {
        single.number: f"{number_text(single.cut.offset, units)} | "
        f"{number_text(single.cut.depth, units)}"
        for single in cut.passes
    }
    longest = max((text_width(text, SMALL) for text in texts.values()), default=0.0)
    marks: list[Mark] = []
    for balloon in balloons_of(axes, placing, longest):
        marks.append(line(balloon.knee, balloon.foot, pen=LEADER_PEN))
        if balloon.label:
            marks += _label(balloon, texts[balloon.number])
        marks += numbered(balloon.number, balloon.middle)
    return marks


def _label(balloon: Balloon, text: str) -> list[Mark]:
    """The words along the axis, on a bare patch: lines of the heights may run behind them."""
    angle = math.degrees(math.atan2(balloon.way[1], balloon.way[0]))
    if angle > 90.0 + 1e-9 or angle <= -90.0 + 1e-9:
        angle -= 180.0
    middle = balloon.back(BALLOON + 1.2 + balloon.label / 2.0)
    along = np.array(balloon.way) * (text_width(text, SMALL) / 2.0 + 0.4)
    across = np.array((-balloon.way[1], balloon.way[0])) * 1.2
    ring = np.array([along + across, across - along, -along - across, along - across])
    return [
        Fill((ring + np.array(middle),), WHITE),
        words(middle, text, SMALL, INK, "middle", angle=angle, centered=True),
    ]
