"""A bench with a document to try it on, and a hand that moves over it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import CoreBox, Straight
from profilestack.desktop.axis import Axis
from profilestack.desktop.bench import Bench
from profilestack.desktop.document import Document
from profilestack.geometry.path import Path
from profilestack.session.session import Session
from profilestack.stack import Blank, Pass, PathTarget, Rectangle, Setup, Stack, StraightRun

WIDTH, TOP = 80.0, 40.0
FLAT = Path((0.0, 25.0)).line((WIDTH, 25.0))
STRAIGHT = Bit("flat", Straight(12.0), cutting_length=30.0, shank=6.0, length=90.0)
NOSE = Bit("nose", CoreBox(12.0), cutting_length=30.0, shank=6.0, length=90.0)
NO_KEYS = Qt.KeyboardModifier.NoModifier
ALT, SHIFT = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ShiftModifier
LEFT, MIDDLE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton


def board(*passes: Pass, target: Path | None = FLAT, setups: tuple[Setup, ...] = ()) -> Stack:
    """A board of 80 x 40 with a level wanted profile at 25, and two passes."""
    return Stack(
        blank=Blank(Rectangle(WIDTH, TOP)),
        run=StraightRun(1000.0),
        target=None if target is None else PathTarget(target),
        setups=setups,
        passes=passes or (Pass("flat", 20.3, 9.7), Pass("nose", 55.3, 11.7)),
        bits=(STRAIGHT, NOSE),
    )


def bench_on(stack: Stack) -> Bench:
    """A bench of a fixed size, shown whole."""
    bench = Bench(Document(Session(stack)), Axis())
    bench.resize(800, 700)
    bench.show()
    QApplication.processEvents()
    bench.document.setParent(bench)
    bench.axis.setParent(bench)
    return bench


class HandOver:
    """Sends mouse events to a widget; places are pixels, or mm of the section."""

    def __init__(self, widget: QWidget, bench: Bench) -> None:
        self.widget, self.axis = widget, bench.axis
        self.held = Qt.MouseButton.NoButton
        self.at = QPointF()

    def over(self, x: float, z: float) -> QPointF:
        """The pixel of a place of the section [mm]."""
        return QPointF(self.axis.pixel_of_x(x), self.axis.pixel_of_z(z))

    def press(
        self, at: QPointF, button: Qt.MouseButton = LEFT, keys: Qt.KeyboardModifier = NO_KEYS
    ) -> None:
        self.held = button
        self._send(QEvent.Type.MouseButtonPress, at, button, keys)

    def move(self, at: QPointF, keys: Qt.KeyboardModifier = NO_KEYS) -> None:
        self._send(QEvent.Type.MouseMove, at, Qt.MouseButton.NoButton, keys)

    def release(self, keys: Qt.KeyboardModifier = NO_KEYS) -> None:
        button, self.held = self.held, Qt.MouseButton.NoButton
        self._send(QEvent.Type.MouseButtonRelease, self.at, button, keys)

    def drag(self, begin: QPointF, end: QPointF, keys: Qt.KeyboardModifier = NO_KEYS) -> None:
        """Press, move there in four steps, let go."""
        self.press(begin, keys=NO_KEYS)
        for share in (0.25, 0.5, 0.75, 1.0):
            self.move(begin + share * (end - begin), keys)
        self.release(keys)

    def _send(
        self, kind: QEvent.Type, at: QPointF, button: Qt.MouseButton, keys: Qt.KeyboardModifier
    ) -> None:
        self.at = at
        event = QMouseEvent(kind, at, self.widget.mapToGlobal(at), button, self.held, keys)
        QApplication.sendEvent(self.widget, event)
