"""Placing a bit that no hand holds over the section: by a key, or dropped among the passes."""

from __future__ import annotations

from profilestack.desktop.document import Document
from profilestack.session.moving import placed_in_the_middle


def place_in_the_middle(document: Document, bit_id: str, at: int | None = None) -> bool:
    """A new pass over the middle of the wanted profile, as deep as it may go, and chosen.

    It is cut before the pass that is now at ``at``; None: last. Whether there is such a bit.
    """
    session = document.session
    bit = session.bit_called(bit_id)
    if bit is None:
        document.said.emit(f"No bit is called {bit_id!r}.")
        return False
    settled = session.settled
    carried = session.bits_at_hand.must_be_carried(bit)
    document.edit(*placed_in_the_middle(settled, bit, at, carried=carried))
    place = len(settled.passes) if at is None else at
    document.choose((place,))
    document.bit_placed.emit(place)
    return True
