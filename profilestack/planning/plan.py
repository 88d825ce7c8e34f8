"""What a plan is: the steps in which a stack is cut on a shop's machine, and what they take."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from profilestack.bits.bit import Bit
from profilestack.cutting.caution import Caution
from profilestack.cutting.cut import Cut
from profilestack.planning.said import Said
from profilestack.planning.shop import Shop
from profilestack.planning.species import Species
from profilestack.stack import Stack

Side = Literal["left", "right", "both", "none"]
"""On which side of its axis a bit meets wood, seen from the left end of the part."""

Way = Literal["conventional", "climb", "both"]
"""How the edge meets the feed; "both" where it cuts on both sides, as in a groove."""

Through = Literal["one piece", "each piece", "each bit"]
"""All bits on each piece, or each bit through all pieces; with one piece there is no choice."""


@dataclass(frozen=True, slots=True)
class Step:
    """One depth of one pass in one setup; lengths [mm], feeds [mm/min], power [W].

    ``number`` counts the plan's steps from 1. ``pass_number`` is the pass of the planned stack
    (:attr:`Plan.stack`), ``document_pass`` that of the document, None where the plan added it.
    ``depth`` is this step's, below the face as the blank lies; ``depths`` are all of its pass, and
    ``place`` counts it among them from 1. The last of a finishing pass is ``finishing``.

    ``travels`` counts repeats and copies. ``removed_area`` [mm2] and ``removed_volume`` [mm3] are
    of all travels together, of one piece; ``section`` is the largest of one travel. ``chip`` is
    the thickest chip, ``tooth`` the feed per tooth. ``power`` is needed at the cut,
    ``power_there`` is what the spindle gives at this speed. ``minutes`` are for all pieces.
    ``side`` is where the bit meets wood, ``from_left`` says from which end it starts.
    ``purpose`` is what the pass is for, ``how`` why this depth; both together are :attr:`why`.
    """

    number: int
    pass_number: int
    document_pass: int | None
    bit: Bit
    setup: str
    offset: float
    depth: float
    depths: tuple[float, ...]
    place: int
    relief: bool
    finishing: bool
    rpm: float
    feed: float
    tooth: float
    travels: int
    removed_area: float
    removed_volume: float
    section: float
    chip: float
    power: float
    power_there: float
    minutes: float
    side: Side
    way: Way
    from_left: bool
    purpose: str
    how: Said
    speed_why: str
    cautions: tuple[Caution, ...] = ()
    begin: float | None = None
    end: float | None = None
    count: int = 1
    pitch: float = 0.0
    note: str = ""

    @property
    def why(self) -> str:
        """Why the step is there, lengths in mm."""
        return self.why_in("mm")

    def why_in(self, units: str) -> str:
        """Why the step is there, lengths in "mm" or "in"."""
        count = len(self.depths)
        which = f"depth {self.place} of {count}: " if count > 1 else ""
        return f"{self.purpose}; {which}{self.how.say(units)}"

    @property
    def is_last(self) -> bool:
        """Whether it is the last depth of its pass."""
        return self.place == len(self.depths)


@dataclass(frozen=True, slots=True)
class PlanMinutes:
    """Minutes for all pieces, by what they go into; resting is not counted."""

    changes: float
    setups: float
    cutting: float
    sanding: float

    @property
    def machine(self) -> float:
        """Without sanding [min]."""
        return self.changes + self.setups + self.cutting

    @property
    def total(self) -> float:
        """All together [min]."""
        return self.machine + self.sanding


@dataclass(frozen=True, slots=True)
class Rest:
    """A pause before a step, so that wood can move, and whether it is then made flat again.

    ``share`` of the blank's area has left the side that lies up.
    """

    before_step: int
    share: float


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """A stack planned for a shop.

    ``stack`` is the planned one: the document's passes in the order they are taken, with those
    that were added to rough out. ``cut`` is the engine's cut of every step, each depth a pass;
    step k is its pass k. ``orders`` were looked at; ``proved`` says that none of them takes fewer
    minutes. ``plain`` are the minutes of the document's own order, without added passes.
    ``sentences`` say what was decided.
    """

    document: Stack
    stack: Stack
    shop: Shop
    species: Species
    cut: Cut
    steps: tuple[Step, ...]
    rests: tuple[Rest, ...]
    minutes: PlanMinutes
    through: Through
    other_way: float
    plain: PlanMinutes | None
    plain_trouble: str
    orders: int
    proved: bool
    sentences: tuple[Said, ...]
    cautions: tuple[Caution, ...]

    @property
    def setups(self) -> tuple[str, ...]:
        """The setups in the order they come."""
        return tuple(dict.fromkeys(step.setup for step in self.steps))
