"""A row of a list that reads like a page: something that stands out, figures, words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["setup", "bit", "rest", "pass", "caution", "said"]


@dataclass(frozen=True, slots=True)
class PageRow:
    """One row.

    ``head`` stands out, ``words`` explain. ``cells`` are lines of figures, ``columns`` the name
    and the unit of each column, told over the figures where the row ``names_columns``. ``place``
    is the pass of the document that it is about, from 0; None where there is none. ``grave``:
    stop.
    """

    kind: Kind
    head: str
    words: str = ""
    cells: tuple[tuple[str, ...], ...] = ()
    place: int | None = None
    grave: bool = False
    columns: tuple[tuple[str, str], ...] = ()
    names_columns: bool = False

    @property
    def heads(self) -> tuple[tuple[str, ...], ...]:
        """The names of the columns and their units, where the row tells them."""
        if not self.names_columns:
            return ()
        names, units = zip(*self.columns, strict=True)
        return (names, units) if any(units) else (names,)

    @property
    def spoken(self) -> str:
        """All of it as a sentence each, for those who hear it."""
        lines = [
            ", ".join(
                f"{name} {cell} {unit}".strip()
                for (name, unit), cell in zip(self.columns, cells, strict=True)
            )
            for cells in self.cells
        ]
        return ". ".join(filter(None, (self.head, *lines, self.words)))
