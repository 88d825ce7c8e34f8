"""Finds out off the window's thread what bits are good for on the target that is shown."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, QTimer, Signal

from profilestack.bits.bit import Bit
from profilestack.bits.edge import has_undercut
from profilestack.desktop.background import Background
from profilestack.errors import ProfilestackError
from profilestack.jobs.reach import BitReach, ReachRequest, asked_by, reach_of_bits
from profilestack.stack import Stack

AT_ONCE = 40
"""So many bits are looked at before what is known of them is told."""

REST = 200
"""The target has to lie still for so long before it is looked at [ms]."""


class Reaching(QObject):
    """What is good for what; answers for a target that is no longer shown are dropped."""

    told = Signal(object)
    """All that is known now: ``BitReach`` by the ids of bits."""

    failed = Signal(str)
    """Nothing can be known, and why; "" when that is over."""

    def __init__(self, owner: QObject) -> None:
        super().__init__(owner)
        self._background = Background(self)
        self._background.done.connect(self._hear)
        self._background.failed.connect(self._hear_trouble)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self._rest.timeout.connect(self._go_on)
        self._stack: Stack | None = None
        self._key: tuple[object, ...] = ()
        self._bits: tuple[Bit, ...] = ()
        self._asked: tuple[Bit, ...] = ()
        self._known: dict[Bit, BitReach] = {}

    @property
    def is_busy(self) -> bool:
        """Whether more is to come."""
        return self._rest.isActive() or self._background.is_busy

    def look(self, stack: Stack, bits: Sequence[Bit]) -> None:
        """Find out what these bits are good for on the target of this stack."""
        key, bits = asked_by(stack), tuple(bits)
        if key == self._key and bits == self._bits:
            return
        if key != self._key:
            self._known = {}
        self._stack, self._key, self._bits = stack, key, bits
        self._background.drop()
        self.failed.emit("")
        if stack.target is None:
            self._rest.stop()
            self._known = {}
            self.told.emit({})
            return
        self._rest.start()

    def _go_on(self) -> None:
        unknown = [bit for bit in self._bits if bit not in self._known]
        self.told.emit({bit.id: self._known[bit] for bit in self._bits if bit in self._known})
        if unknown and self._stack is not None:
            # where an undercut bit fits takes long to see: the others need not wait for it
            self._asked = tuple(sorted(unknown, key=has_undercut)[:AT_ONCE])
            self._background.run(reach_of_bits, ReachRequest(self._stack, self._asked))

    def _hear(self, found: dict[str, BitReach]) -> None:
        self._known.update({bit: found[bit.id] for bit in self._asked})
        self._go_on()

    def _hear_trouble(self, error: ProfilestackError) -> None:
        self.told.emit({})
        self.failed.emit(str(error))
