"""The section wanted."""

from __future__ import annotations

from dataclasses import dataclass

from profilestack.geometry.path import Path
from profilestack.targets.members import MemberColumn


@dataclass(frozen=True, slots=True)
class PathTarget:
    """A target typed as lines and arcs [mm].

    Open: from one place on the blank's outline to another, the wood on its right hand.
    Closed: the whole section, the wood inside.
    """

    typed: Path
    closed: bool = False

    def path(self) -> Path:
        """The target path [mm] in the section plane."""
        return self.typed


@dataclass(frozen=True, slots=True)
class MemberTarget:
    """A target built from classical members, laid and placed."""

    column: MemberColumn

    closed: bool = False

    def path(self) -> Path:
        """The target path [mm] in the section plane."""
        return self.column.path()


Target = PathTarget | MemberTarget
