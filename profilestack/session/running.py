"""Which runs of the app are alive: each holds a lock on a file of its own until it ends.

The system lets go of a lock when its process ends, however it ends; so a journal whose run holds
no lock any more was left by a process that died. Numbers of processes are given anew, locks lie
not.
"""

from __future__ import annotations

import os
import secrets
import sys
from pathlib import Path
from typing import IO

from profilestack.errors import FileError

ENDING = ".alive"
TRIES = 3


class Running:
    """This run of the app, named by its process and a number that no other run has."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.name = f"{os.getpid()}-{secrets.token_hex(4)}"
        self._file: IO[bytes] | None = None

    def begin(self) -> None:
        """Say that this run is alive; once is enough.

        Raises:
            FileError: the folder cannot be made or written to.
        """
        if self._file is not None:
            return
        path = self.folder / f"{self.name}{ENDING}"
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            for _ in range(TRIES):
                self._file = path.open("wb")
                # another run that looks between the two calls clears the file away
                if _lock(self._file) and path.exists():
                    break
                self._file.close()
            else:  # a disk without locks: journals are still kept, and offered too early at worst
                self._file = path.open("wb")
        except OSError as error:
            raise FileError(f"{self.folder}: cannot be written to: {error.strerror}") from error

    def end(self) -> None:
        """This run is over."""
        if self._file is not None:
            self._file.close()
            self._file = None
            (self.folder / f"{self.name}{ENDING}").unlink(missing_ok=True)


def is_alive(folder: Path, name: str) -> bool:
    """Whether the run of that name still holds its lock; a dead one's file is cleared away."""
    path = folder / f"{name}{ENDING}"
    try:
        with open(path, "r+b") as file:
            if not _lock(file):
                return True
    except FileNotFoundError:
        return False
    except OSError:
        return True  # somebody else's, perhaps: leave it alone
    path.unlink(missing_ok=True)
    return False


if sys.platform == "win32":
    import msvcrt

    def _lock(file: IO[bytes]) -> bool:
        """Lock the file, unless somebody else has; whether it is locked now."""
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _lock(file: IO[bytes]) -> bool:
        """Lock the file, unless somebody else has; whether it is locked now."""
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True
