"""Keeps new and changed bits where they are wanted, and puts back what was there before."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, Signal

from profilestack.bits.bit import Bit
from profilestack.desktop.document import Document
from profilestack.session import bit_keeping
from profilestack.session.bit_sources import DRAWER, OWN, source_said


class Keeping(QObject):
    """Bits in the document are edits of it; those in files can be put back while they are named.

    Methods raise ``ProfilestackError`` where nothing was changed.
    """

    told = Signal(str)
    """What was done with a file, and can be put back."""

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._document = document
        self._kept: bit_keeping.Kept | None = None

    @property
    def can_put_back(self) -> bool:
        """Whether a file may be given back what it held before."""
        return self._kept is not None

    def keep(self, bit: Bit, source: str, former: str | None) -> None:
        """Keep a bit in a source; ``former`` is the id that it had there."""
        session = self._document.session
        if source == OWN:
            self._kept = None
            self._document.edit(*bit_keeping.with_bit_kept(session.settled, bit, former))
            return
        if source == DRAWER:
            kept = bit_keeping.keep_in_drawer(bit, former)
        else:
            units = self._document.units
            kept = bit_keeping.keep_in_library(Path(source), bit, former, units)
            session.bits_at_hand.open_library(source)
        self._have(kept, f"{bit.name} is kept in {source_said(source)}: {kept.count} bits.")

    def take_out(self, bit: Bit, source: str) -> None:
        """Take a bit out of the drawer or out of the document."""
        if source == OWN:
            self._kept = None
            self._document.edit(*bit_keeping.without_bit(self._document.session.settled, bit.id))
            return
        kept = bit_keeping.take_from_drawer(bit.id)
        self._have(kept, f"{bit.name} is out of the drawer: {kept.count} bits are left.")

    def put_back(self) -> None:
        """Let the file hold again what it held before."""
        if self._kept is None:
            return
        bit_keeping.put_back(self._kept)
        self._kept = None
        self._document.look_up_again()
        self.told.emit("It is as it was before.")

    def why_not_out(self, bit: Bit | None, source: str) -> str:
        """Why a bit cannot be taken out; "" where it can."""
        if bit is None:
            return "Choose a bit first"
        if source not in (DRAWER, OWN):
            return "Bits are taken out of the drawer and of the document alone"
        cuts = any(single.bit == bit.id for single in self._document.stack.passes)
        if source == OWN and cuts and self._document.session.bits_at_hand.find(bit.id) is None:
            return "A pass cuts with it, and nothing else at hand has this bit"
        return ""

    def _have(self, kept: bit_keeping.Kept, words: str) -> None:
        self._kept = kept
        self._document.look_up_again()
        self.told.emit(words)
