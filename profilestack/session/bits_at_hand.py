"""The bits that a document can take: its own, opened libraries', the drawer's, the shipped ones."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from profilestack.bits.bit import Bit
from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.shipped import ALL, read_bits, read_drawer
from profilestack.stack import Stack


class BitsAtHand:
    """Bits by id, looked up in the order of the contract; slow libraries are read when needed."""

    def __init__(self, libraries: Iterable[str] = ()) -> None:
        self.libraries = tuple(libraries)

    @cached_property
    def opened(self) -> dict[str, Bit]:
        """The bits of opened libraries; an id's first bit wins."""
        found: dict[str, Bit] = {}
        for name in self.libraries:
            for bit in read_bits(name):
                found.setdefault(bit.id, bit)
        return found

    @cached_property
    def drawer(self) -> dict[str, Bit]:
        """The bits of the drawer."""
        return {bit.id: bit for bit in read_drawer()}

    @cached_property
    def shipped(self) -> dict[str, Bit]:
        """The bits of the whole shipped library."""
        return {bit.id: bit for bit in read_bits(ALL)}

    def open_library(self, name: str) -> None:
        """Have the bits of one more library file at hand.

        Raises:
            FileError: it is not there or cannot be read.
            InputError: all problems of the file.
        """
        read_bits(name)
        if name not in self.libraries:
            self.libraries = (*self.libraries, name)
            self.read_again()

    def read_again(self) -> None:
        """Forget what was read: a file has changed."""
        for name in ("opened", "drawer"):
            self.__dict__.pop(name, None)

    def bits_of(self, stack: Stack) -> dict[str, Bit]:
        """The bits that a stack's passes name.

        Raises:
            InputError: bits that nobody knows, with the nearest known id.
        """
        own = {bit.id: bit for bit in stack.bits}
        found, problems = {}, []
        for number, single in enumerate(stack.passes, 1):
            if single.bit in found:
                continue
            bit = own.get(single.bit) or self.find(single.bit)
            if bit is not None:
                found[single.bit] = bit
                continue
            hint = nearest_word(single.bit, [*own, *self.drawer, *self.shipped])
            text = f"no bit is called {single.bit!r}"
            problems.append(Problem(f"pass[{number}].bit", text, "the id of a bit", hint))
        if problems:
            raise InputError(problems)
        return found

    def find(self, bit_id: str) -> Bit | None:
        """The bit of that id outside any document."""
        return self.opened.get(bit_id) or self.drawer.get(bit_id) or self.shipped.get(bit_id)

    def must_be_carried(self, bit: Bit) -> bool:
        """Whether a document must carry the bit, so that others who open it have it too."""
        # most bits are the drawer's: the whole library is not read for them
        return bit != self.drawer.get(bit.id) and bit != self.shipped.get(bit.id)
