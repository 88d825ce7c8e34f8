"""One classical member with its measures, checked when it is made."""

from __future__ import annotations

import math
from dataclasses import dataclass

from profilestack.errors import InputError, Problem, nearest_word
from profilestack.geometry.path import Path
from profilestack.targets.member_shapes import MEMBERS, Measures, MemberShape
from profilestack.targets.member_shapes.base import LARGEST

LENGTHS = ("height", "projection", "width", "depth")
"""The keys of a member that are lengths [mm]."""


@dataclass(frozen=True, slots=True)
class Member:
    """A classical member; lengths [mm], None where the member's own rule is to hold.

    ``member`` is a word of the table ``MEMBERS``; ``height`` is along the wall; ``projection`` is
    how far the face moves between upper and lower end, + away from the wall going up (a crown's
    way), - the other way (a base's), and for torus, astragal, bead and reed their bulge.
    ``width`` and ``depth`` are the quirk's own.

    Raises:
        InputError: an unknown member or variant, a key the member does not have, or a measure
            that is missing or impossible; every problem at once, by key.
    """

    member: str
    height: float | None = None
    projection: float | None = None
    variant: str | None = None
    width: float | None = None
    depth: float | None = None

    def __post_init__(self) -> None:
        if problems := _problems(self):
            raise InputError(problems)

    @property
    def shape(self) -> MemberShape:
        """How the member is drawn."""
        return MEMBERS[self.member]

    @property
    def measures(self) -> Measures:
        """What was given."""
        return Measures(self.height, self.projection, self.variant, self.width, self.depth)

    @property
    def fall(self) -> float:
        """How far down the member leads [mm]."""
        return self.shape.fall(self.measures)

    @property
    def step(self) -> float:
        """How far the face moves towards the wall from the upper to the lower end [mm]."""
        return self.shape.step(self.measures)

    @property
    def deviation(self) -> float:
        """How far the traced arcs leave the curve that they stand for [mm]; mostly 0."""
        return self.shape.deviation(self.measures)

    def trace(self) -> Path:
        """The face from the upper end at (0, 0) down to the lower end at (-step, -fall) [mm].

        The wood is on the right hand.
        """
        return self.shape.trace(self.measures)


def _problems(member: Member) -> list[Problem]:
    shape = MEMBERS.get(member.member)
    if shape is None:
        hint = nearest_word(str(member.member), MEMBERS)
        text = f"{member.member!r} is no member"
        return [Problem("member", text, f"one of {', '.join(MEMBERS)}", hint)]
    found = _variant_problems(member.variant, shape)
    for key in LENGTHS:
        value = getattr(member, key)
        if value is None:
            if key in shape.required:
                found.append(Problem(key, f"is missing: {_one(shape)} needs it", "a length"))
        elif key not in shape.required | shape.optional:
            found.append(Problem(key, f"is no key of {_one(shape)}", "only " + _keys_of(shape)))
        else:
            found += _length_problems(key, value, shape)
    return found or shape.problems(member.measures)


def _variant_problems(variant: str | None, shape: MemberShape) -> list[Problem]:
    if variant is None or variant in shape.variants:
        return []
    known = ", ".join(shape.variants)
    text = f"{variant!r} is no variant of {_one(shape)}"
    expected = f"one of {known}" if known else "no variant"
    return [Problem("variant", text, expected, nearest_word(str(variant), shape.variants))]


def _length_problems(key: str, value: float, shape: MemberShape) -> list[Problem]:
    signed = key == "projection" and shape.signed
    finite = math.isfinite(value) and abs(value) <= LARGEST
    if finite and (signed or value > 0.0 or (key == "projection" and value == 0.0)):
        return []
    expected = f"at most {LARGEST:g} mm either way" if signed else f"above 0, at most {LARGEST:g}"
    return [Problem(key, f"{value!r} is impossible", expected)]


def _keys_of(shape: MemberShape) -> str:
    keys = [key for key in LENGTHS if key in shape.required | shape.optional]
    return ", ".join(keys + (["variant"] if shape.variants else []))


def _one(shape: MemberShape) -> str:
    article = "an" if shape.word[0] in "aeiou" else "a"
    return f"{article} {shape.word}"
