"""Long painting in short slices: it belongs to the window's thread, and must not hold it up."""

from __future__ import annotations

import time
from collections.abc import Iterator

from PySide6.QtCore import QObject, QTimer, Signal

from profilestack.errors import ProfilestackError

SLICE = 0.012
"""So long one slice may take [s], and what its last step takes beyond."""


class Slices(QObject):
    """Runs an iterator in slices between everything else that happens in the window."""

    finished = Signal()
    """It came to its end."""

    failed = Signal(object)
    """It raised a ``ProfilestackError``, and is over."""

    def __init__(self, owner: QObject) -> None:
        super().__init__(owner)
        self._steps: Iterator[None] | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._go_on)

    @property
    def is_busy(self) -> bool:
        """Whether more is to come."""
        return self._steps is not None

    def run(self, steps: Iterator[None]) -> None:
        """Begin; what ran before is given up."""
        self.stop()
        self._steps = steps
        self._timer.start()

    def stop(self) -> None:
        """Give up what runs."""
        self._timer.stop()
        steps, self._steps = self._steps, None
        if steps is not None and hasattr(steps, "close"):
            steps.close()

    def _go_on(self) -> None:
        end = time.perf_counter() + SLICE
        steps = self._steps
        assert steps is not None, "the timer runs only while there are steps"
        try:
            while time.perf_counter() < end:
                next(steps)
        except StopIteration:
            self._end()
            self.finished.emit()
        except ProfilestackError as error:
            self._end()
            self.failed.emit(error)
        except BaseException:
            self._end()
            raise

    def _end(self) -> None:
        self._timer.stop()
        self._steps = None
