"""What a shop calls its bits: kinds narrower than a shape, and other names for the same thing."""

from __future__ import annotations

import re

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

POINT_CUTTING_TIP = 3.5
"""A round, ogee or cove with a tip up to this [mm] cuts with its point (common practice)."""

ALIASES: tuple[tuple[str, ...], ...] = (
    ("bullnose", "half-round", "half round", "bull nose"),
    ("roundover", "round-over", "rounding", "ovolo"),
    ("point-cutting", "plunging", "plunge-cutting", "pointcutting"),
    ("core-box", "corebox", "round-nose", "roundnose"),
    ("ball", "ball-nose", "ballnose"),
    ("v-groove", "vgroove", "v-bit", "vee", "engraving"),
    ("cove", "cavetto", "scotia"),
    ("ogee", "cyma"),
    ("rabbet", "rebate", "rabbeting", "rebating"),
    ("surfacing", "spoilboard", "flattening", "planing"),
    ("molding", "moulding"),
    ("casing", "architrave"),
    ("crown", "cornice"),
    ("base", "skirting"),
    ("taper-ball", "tapered-ball", "tapered", "taper"),
    ("straight", "flat"),
    ("bowl", "tray"),
    ("chamfer", "bevel"),
)
"""Each line: words for one thing; a search for any finds what is called any of the others."""


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
        case Straight():
            return f"{bearing}straight"
        case CoreBox() | Bullnose() | Dovetail() | TaperBall():
            return shape.word
        case _:
            return shape.word


def matches(bit: Bit, search: str) -> bool:
    """Whether every word of a search is said of the bit, by any name the trade has for it.

    Looked at: id, name, kind, shape and note; both spellings and the usual other names count.
    """
    said = _told(" ".join((bit.id, bit.name, kind_of(bit), bit.shape.word, bit.note)))
    return all(
        any(_is_said(name, said) for name in _other_names(word))
        for word in _told(search).split()
    )  # fmt: skip


def _other_names(word: str) -> set[str]:
    names = {word}
    for line in ALIASES:
        spoken = {_told(name) for name in line}
        if word in spoken or any(word in name.split() for name in spoken if " " in name):
            names |= spoken
    return names


def _is_said(name: str, said: str) -> bool:
    return re.search(rf"(?<![a-z0-9]){re.escape(name)}", said) is not None


def _told(text: str) -> str:
    """Lower case, hyphens kept inside words, all else as spaces."""
    return re.sub(r"[^a-z0-9./-]+", " ", text.lower()).strip()
