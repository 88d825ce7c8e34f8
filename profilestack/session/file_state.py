"""What a file was like when it was last read or written here: to notice who else writes it."""

from __future__ import annotations

import os
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path


@dataclass(frozen=True, slots=True)
class FileState:
    """The marks by which a change is noticed at once, and the digest that proves it."""

    size: int
    changed_ns: int
    number: int
    digest: bytes

    def looks_like(self, status: os.stat_result) -> bool:
        """Whether the file seems not to have been touched since."""
        marks = (status.st_size, status.st_mtime_ns, status.st_ino)
        return marks == (self.size, self.changed_ns, self.number)


def state_of(path: Path) -> FileState | None:
    """The state of a file; None where it is not there or cannot be read."""
    try:
        with open(path, "rb") as file:
            status = os.fstat(file.fileno())
            digest = blake2b(file.read(), digest_size=16).digest()
    except OSError:
        return None
    return FileState(status.st_size, status.st_mtime_ns, status.st_ino, digest)


def state_now(path: Path, before: FileState | None) -> FileState | None:
    """The state of a file, read only where it seems to differ from ``before``."""
    if before is not None:
        try:
            if before.looks_like(os.stat(path)):
                return before
        except OSError:
            return None
    return state_of(path)


def is_same_file(first: Path, second: Path) -> bool:
    """Whether two names lead to one file, whether it is there or not."""
    try:
        return os.path.samefile(first, second)
    except OSError:
        return os.path.realpath(first) == os.path.realpath(second)
