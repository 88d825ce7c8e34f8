"""The classical members: one file each, one line each in ``MEMBERS``.

Everything that depends on which members exist (files, help, pictures, law tests) reads this table.
"""

from __future__ import annotations

from profilestack.targets.member_shapes.astragal import Astragal
from profilestack.targets.member_shapes.base import Measures, MemberShape
from profilestack.targets.member_shapes.bead import Bead
from profilestack.targets.member_shapes.bevel import Bevel
from profilestack.targets.member_shapes.cavetto import Cavetto
from profilestack.targets.member_shapes.conge import Conge
from profilestack.targets.member_shapes.cyma_recta import CymaRecta
from profilestack.targets.member_shapes.cyma_reversa import CymaReversa
from profilestack.targets.member_shapes.fillet import Fillet
from profilestack.targets.member_shapes.ovolo import Ovolo
from profilestack.targets.member_shapes.quirk import Quirk
from profilestack.targets.member_shapes.reed import Reed
from profilestack.targets.member_shapes.scotia import Scotia
from profilestack.targets.member_shapes.setback import Setback
from profilestack.targets.member_shapes.torus import Torus

MEMBERS: dict[str, MemberShape] = {
    shape.word: shape()
    for shape in (
        Fillet,
        Setback,
        Bevel,
        Cavetto,
        Ovolo,
        CymaRecta,
        CymaReversa,
        Scotia,
        Torus,
        Astragal,
        Bead,
        Reed,
        Quirk,
        Conge,
    )
}

__all__ = ["MEMBERS", "Measures", "MemberShape"]
