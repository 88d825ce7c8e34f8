"""The classical members: one file each, one line each in ``MEMBERS``.

Everything that depends on which members exist (files, help, pictures, law tests) reads this table.
"""

from __future__ import annotations

from profilestack.targets.member_shapes.base import Measures, MemberShape
from profilestack.targets.member_shapes.cavetto import Cavetto
from profilestack.targets.member_shapes.fillet import Fillet
from profilestack.targets.member_shapes.ovolo import Ovolo
from profilestack.targets.member_shapes.setback import Setback

MEMBERS: dict[str, MemberShape] = {
    shape.word: shape()
    for shape in (
        Fillet,
        Setback,
        Cavetto,
        Ovolo,
    )
}

__all__ = ["MEMBERS", "Measures", "MemberShape"]
