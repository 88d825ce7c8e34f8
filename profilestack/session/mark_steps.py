"""What was done to the marks on a picture and to their distance, step by step, to take it back."""

from __future__ import annotations

Said = tuple[float | None, ...]
"""What the fields of the marks hold; None where one is empty."""


class MarkSteps:
    """The steps since a picture was opened. Changes of one ``run`` in a row are one step."""

    def __init__(self, now: Said) -> None:
        self._now = now
        self._past: list[Said] = []
        self._future: list[Said] = []
        self._run = ""

    def change(self, now: Said, run: str = "") -> None:
        """The fields hold something else; "" is no run: a step of its own."""
        if now == self._now:
            return
        if not (run and run == self._run):
            self._past.append(self._now)
        elif self._past[-1] == now:  # the run led back to where it began
            self._past.pop()
            run = ""
        self._future.clear()
        self._now, self._run = now, run

    def take_back(self) -> Said | None:
        """What the fields held before the last step; None where there is none."""
        return self._go(self._past, self._future)

    def do_again(self) -> Said | None:
        """What the fields held before the last step was taken back; None where none was."""
        return self._go(self._future, self._past)

    def _go(self, whence: list[Said], whither: list[Said]) -> Said | None:
        self._run = ""
        if not whence:
            return None
        whither.append(self._now)
        self._now = whence.pop()
        return self._now
