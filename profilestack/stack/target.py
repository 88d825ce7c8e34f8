"""The section wanted."""

from __future__ import annotations

from dataclasses import dataclass

from profilestack.errors import InputError
from profilestack.geometry.path import Path, Point
from profilestack.targets.members import MemberColumn
from profilestack.targets.placement import place, placement_problems


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


@dataclass(frozen=True, slots=True)
class FileTarget:
    """A target drawn or measured in another file.

    ``file`` is its name from ``folder`` on, the absolute path of the folder that the stack was
    read from. ``traced`` is the path that was read [mm], as it lies there; ``mirror``, ``scale``,
    ``rotation`` [deg] and ``at`` [mm] place it: see :func:`profilestack.targets.placement.place`.

    Raises:
        InputError: a number out of range.
    """

    file: str
    traced: Path
    folder: str = ""
    at: Point = (0.0, 0.0)
    scale: float = 1.0
    rotation: float = 0.0
    mirror: bool = False

    def __post_init__(self) -> None:
        if problems := placement_problems(self.at, self.scale, self.rotation):
            raise InputError(problems)

    @property
    def closed(self) -> bool:
        """Whether it is the whole section."""
        return self.traced.is_closed

    def path(self) -> Path:
        """The target path [mm] in the section plane."""
        return place(self.traced, self.at, self.scale, self.rotation, self.mirror)


Target = PathTarget | MemberTarget | FileTarget
