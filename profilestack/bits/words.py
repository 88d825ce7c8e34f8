"""What a shop calls its bits: kinds narrower than a shape, and other names for the same thing."""

from __future__ import annotations

import re
from functools import lru_cache

from profilestack.bits.bit import Bit
from profilestack.bits.shapes.bullnose import Bullnose
from profilestack.bits.shapes.core_box import CoreBox
from profilestack.bits.shapes.cove import Cove
from profilestack.bits.shapes.dovetail import Dovetail
from profilestack.bits.shapes.ogee import Ogee
from profilestack.bits.shapes.reverse_ogee import ReverseOgee
from profilestack.bits.shapes.roundover import Roundover
from profilestack.bits.shapes.straight import Straight
from profilestack.bits.shapes.taper_ball import TaperBall
from profilestack.bits.shapes.v_groove import VGroove
from profilestack.units import format_length

POINT_CUTTING_TIP = 3.5
"""A round, ogee or cove with a tip up to this [mm] cuts with its point (common practice)."""

ALIASES: tuple[tuple[str, ...], ...] = (
    ("bullnose", "half-round", "half round", "bull-nose", "bull nose"),
    ("roundover", "round-over", "round over", "rounding", "ovolo"),
    ("point-cutting", "point cutting", "plunge-cutting", "plunge cutting", "plunging"),
    ("core-box", "core box", "corebox", "round-nose", "round nose", "roundnose"),
    ("ball", "ball-nose", "ball nose", "ballnose"),
    ("tapered ball", "taper-ball", "tapered-ball", "taper ball"),
    ("v-groove", "v groove", "v-bit", "v bit", "vee"),
    ("cove", "cavetto", "scotia"),
    ("ogee", "cyma"),
    ("rabbet", "rebate", "rabbeting", "rebating"),
    ("surfacing", "spoilboard", "flattening", "planing"),
    ("molding", "moulding"),
    ("crown", "cornice"),
    ("base", "skirting"),
    ("casing", "architrave"),
    ("bowl", "tray"),
    ("chamfer", "bevel"),
)
"""Each line: names of one thing; what is found by one of them is found by all."""


def kind_of(bit: Bit) -> str:
    """What a shop calls the bit, as "point-cutting roundover" or "chamfer"."""
    shape, guided = bit.shape, bit.pilot_diameter is not None
    tip = getattr(shape, "tip", 0.0)
    pointed = tip <= POINT_CUTTING_TIP and not guided
    bearing = "bearing " if guided else ""
    match shape:
        case Roundover() | Ogee() | ReverseOgee():
            word = shape.word.replace("-", " ")
            return f"point-cutting {word}" if pointed else f"{bearing}{word}"
        case Cove():
            return "point-cutting cove" if pointed else f"{bearing}cove" if guided else "bowl"
        case VGroove():
            return "chamfer" if guided else "v-groove"
        case Straight(diameter) if guided and bit.cutting_length <= diameter / 2.0:
            return "disc"
        case Straight():
            return f"{bearing}straight"
        case CoreBox() | Bullnose() | Dovetail() | TaperBall():
            return shape.word
        case _:
            return shape.word


def size_text(bit: Bit, units: str) -> str:
    """The size as a shop says it, as ``R 3/8 in, tip 1/8 in`` or ``90° x 1/2 in``."""

    def said(mm: float) -> str:
        return format_length(mm, units)

    match bit.shape:
        case Straight(diameter) | CoreBox(diameter):
            return said(diameter)
        case VGroove(diameter, angle, tip):
            if bit.pilot_diameter is not None:
                return f"{angle / 2.0:g}° from the axis, {said(diameter)}"
            return f"{angle:g}° x {said(diameter)}, tip {said(tip)}"
        case Cove(radius, tip) | Roundover(radius, tip):
            return f"R {said(radius)}, tip {said(tip)}"
        case Ogee(first, second, tip) | ReverseOgee(second, first, tip):
            return f"R {said(first)} + {said(second)}, tip {said(tip)}"
        case Bullnose(radius, tip):
            return f"R {said(radius)}, waist {said(tip)}"
        case Dovetail(diameter, angle):
            return f"{said(diameter)} x {angle:g}°"
        case TaperBall(radius, angle, diameter):
            return f"R {said(radius)}, {angle:g}°, to {said(diameter)}"
        case _:
            return f"{said(bit.shape.size)}, drawn"


def short_size(bit: Bit, units: str) -> str:
    """The one size that a shop asks for first, as ``R 3/8 in`` or ``90°, 1/2 in``."""

    def said(mm: float) -> str:
        return format_length(mm, units)

    match bit.shape:
        case VGroove(diameter, angle):
            told = angle / 2.0 if bit.pilot_diameter is not None else angle
            return f"{told:g}°, {said(diameter)}"
        case Cove(radius) | Roundover(radius) | Bullnose(radius) | TaperBall(radius):
            return f"R {said(radius)}"
        case Ogee(first, second) | ReverseOgee(first, second):
            return f"R {said(max(first, second))}"
        case Dovetail(diameter, angle):
            return f"{angle:g}°, {said(diameter)}"
        case _:
            return said(bit.shape.size)


def matches(bit: Bit, search: str) -> bool:
    """Whether every word of a search is said of the bit, by any name the trade has for it.

    Looked at: id, name, kind, shape and note; both spellings and the usual other names count, and
    a word may be cut short at its end.
    """
    said = _told(" ".join((bit.id, bit.name, kind_of(bit), bit.shape.word, bit.note)))
    said = f"{said} {_with_first_names(said)}"
    words = _with_first_names(_told(search)).split()
    return all(re.search(rf"(?<![a-z0-9]){re.escape(word)}", said) for word in words)


@lru_cache(maxsize=4096)
def _with_first_names(text: str) -> str:
    """The text with every known name put as the first name of its line."""
    for first, *others in ALIASES:
        for name in sorted(others, key=len, reverse=True):
            text = re.sub(rf"(?<![a-z0-9-]){re.escape(name)}(?![a-z0-9-])", first, text)
    return text


def _told(text: str) -> str:
    """Lower case, hyphens kept inside words, all else as spaces."""
    return re.sub(r"[^a-z0-9./-]+", " ", text.lower()).strip()
