"""The bit shapes: one file each, one line each in ``SHAPES``.

A shape is a frozen dataclass of the keys that a file gives (lengths in mm, angles in degrees).
Everything that depends on which shapes exist (files, help, filters, law tests) reads this table.
"""

from __future__ import annotations

from profilestack.bits.shapes.base import BitShape
from profilestack.bits.shapes.bullnose import Bullnose
from profilestack.bits.shapes.core_box import CoreBox
from profilestack.bits.shapes.cove import Cove
from profilestack.bits.shapes.dovetail import Dovetail
from profilestack.bits.shapes.ogee import Ogee
from profilestack.bits.shapes.outline import Outline
from profilestack.bits.shapes.reverse_ogee import ReverseOgee
from profilestack.bits.shapes.roundover import Roundover
from profilestack.bits.shapes.straight import Straight
from profilestack.bits.shapes.taper_ball import TaperBall
from profilestack.bits.shapes.v_groove import VGroove

SHAPES: dict[str, type[BitShape]] = {
    shape.word: shape
    for shape in (
        Straight,
        CoreBox,
        VGroove,
        Cove,
        Roundover,
        Ogee,
        ReverseOgee,
        Bullnose,
        Dovetail,
        TaperBall,
        Outline,
    )
}
