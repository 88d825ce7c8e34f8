"""The mistakes that are the user's business, and the words they are told in.

    ProfilestackError                anything below: one message, a hint, exit code 2
    |-- InputError                   values that are wrong: one or more ``Problem``
    |   `-- LengthError              a text that is no length (knows the position)
    |-- FileError                    a file that cannot be read, understood or written
    |-- GeometryError                an outline, path or region that cannot exist
    `-- Cancelled                    the user stopped the work

Whatever else is raised is a bug, and is shown with its traceback.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong, told so that the reader can mend it.

    ``where`` is the key path inside the document, as ``pass[3].depth`` (counted from 1).
    """

    where: str
    text: str
    expected: str = ""
    hint: str = ""
    line: int | None = None
    file: str = ""

    def within(self, prefix: str) -> Problem:
        """The same problem, seen from one level further out."""
        joined = f"{prefix}.{self.where}" if self.where else prefix
        return replace(self, where=joined)

    def __str__(self) -> str:
        place = ":".join(str(part) for part in (self.file, self.line) if part)
        where = f"{self.where}: " if self.where else ""
        expected = f"; expected {self.expected}" if self.expected else ""
        hint = f" ({self.hint})" if self.hint else ""
        return f"{place + ': ' if place else ''}{where}{self.text}{expected}{hint}"


class ProfilestackError(Exception):
    """A mistake that is the user's business: say it, say what to do, end with code 2."""


class InputError(ProfilestackError):
    """Values that are wrong; every problem that was found, not only the first."""

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = (
            (problems,) if isinstance(problems, Problem) else tuple(problems)
        )
        super().__init__("\n".join(str(problem) for problem in self.problems))


class LengthError(InputError):
    """A text that is not a length; ``position`` counts characters from 0."""

    def __init__(self, text: str, position: int, reason: str) -> None:
        self.position = position
        super().__init__(
            Problem("", f"{text!r} is not a length: {reason} at character {position + 1}",
                    "a length such as 19 mm, 1 3/8 in, 2 ft 3 in or 19 mm + 1/2 in")
        )  # fmt: skip


class FileError(ProfilestackError):
    """A file that cannot be read, understood or written; the message names it."""


class GeometryError(ProfilestackError):
    """An outline, a path or a region that cannot exist; the message says where."""


class Cancelled(ProfilestackError):
    """The user stopped the work before it was done."""


def nearest_word(word: str, known: Iterable[str]) -> str:
    """A hint "did you mean ..." for a mistyped word, or nothing when none is near."""
    matches = difflib.get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f"did you mean {matches[0]!r}?" if matches else ""
