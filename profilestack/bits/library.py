"""A library of bits in memory: what a shop owns, or what is shipped."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from profilestack.bits.bit import Bit
from profilestack.bits.edge import largest_radius
from profilestack.bits.shapes import SHAPES
from profilestack.bits.words import matches
from profilestack.errors import InputError, Problem, nearest_word


@dataclass(frozen=True, slots=True)
class Library:
    """Bits in their order, each id once.

    ``units`` are those that their file was written in ("mm" or "in"; mm where they differ).

    Raises:
        InputError: an id that is there twice.
    """

    bits: tuple[Bit, ...] = ()
    name: str = ""
    units: str = "mm"

    def __post_init__(self) -> None:
        seen: set[str] = set()
        found = []
        for number, bit in enumerate(self.bits, 1):
            if bit.id in seen:
                found.append(Problem(f"bit[{number}].id", f"{bit.id!r} is there twice", "a new id"))
            seen.add(bit.id)
        if found:
            raise InputError(found)

    def __len__(self) -> int:
        return len(self.bits)

    def __iter__(self) -> Iterator[Bit]:
        return iter(self.bits)

    def __contains__(self, id: object) -> bool:
        return any(bit.id == id for bit in self.bits)

    @property
    def ids(self) -> tuple[str, ...]:
        """The ids in order."""
        return tuple(bit.id for bit in self.bits)

    def bit(self, id: str) -> Bit:
        """The bit of that id.

        Raises:
            InputError: no bit has it; with the nearest id that one has.
        """
        for bit in self.bits:
            if bit.id == id:
                return bit
        where = f" in {self.name}" if self.name else ""
        hint = nearest_word(id, self.ids)
        raise InputError(Problem("bit", f"no bit is called {id!r}{where}", "a bit's id", hint))

    def joined(self, other: Library) -> Library:
        """These bits, then those of the other whose ids are not here yet."""
        mine = set(self.ids)
        added = tuple(bit for bit in other.bits if bit.id not in mine)
        units = other.units if not self.bits or self.units == other.units else "mm"
        return Library((*self.bits, *added), self.name or other.name, units)


def filtered(
    library: Library,
    shapes: Iterable[str] = (),
    smallest: float | None = None,
    largest: float | None = None,
    search: str = "",
) -> Library:
    """The bits of the given shapes, sizes and words; what is not given does not filter.

    ``smallest`` and ``largest`` bound the largest cutting diameter [mm], both included.

    Raises:
        InputError: a shape that does not exist; with the nearest that does.
    """
    wanted = tuple(shapes)
    if unknown := [word for word in wanted if word not in SHAPES]:
        known = ", ".join(SHAPES)
        raise InputError(
            Problem("shape", f"{word!r} is unknown", f"one of {known}", nearest_word(word, SHAPES))
            for word in unknown
        )

    def is_wanted(bit: Bit) -> bool:
        size = 2.0 * largest_radius(bit)
        return (
            (not wanted or bit.shape.word in wanted)
            and (smallest is None or size >= smallest - 1e-6)
            and (largest is None or size <= largest + 1e-6)
            and (not search or matches(bit, search))
        )

    return replace(library, bits=tuple(filter(is_wanted, library.bits)))
