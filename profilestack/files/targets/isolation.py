"""Foreign files are read in a process of their own, with a limit on time and memory.

A file that makes a reader hang, fill the memory or crash costs that process only; the user gets
one line that names the file and the limit. The readers' own budgets refuse what is known to be
hostile long before.
"""

from __future__ import annotations

import contextlib
import json
import os
import stat
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from functools import lru_cache
from importlib import import_module
from pathlib import Path
from typing import Any, cast

from profilestack.errors import (
    Cancelled,
    FileError,
    InputError,
    Problem,
    ProfilestackError,
    nearest_word,
)
from profilestack.files.targets import READERS, Reader
from profilestack.files.targets.picture_view import PictureView, view_from, view_of, view_to_plain
from profilestack.files.targets.plain_tracing import tracing_from, tracing_to_plain
from profilestack.files.targets.wishes import MOST_BYTES, ReadingWishes, from_plain, to_plain
from profilestack.progress import SILENT, Progress
from profilestack.targets.tracing import Tracing

SECONDS = 20.0
"""A reader that takes longer is stopped."""

LOOK = 0.05
"""So often it is asked whether to go on waiting for it [s]."""

MOST_MEMORY = 2 * 2**30
"""A reader gets so many bytes of memory, where the system can limit it."""

_PROGRAM = (
    "import json, sys; sys.path[:] = json.loads(sys.argv[1]); "
    "from profilestack.files.targets.isolation import serve; serve()"
)


@dataclass(frozen=True, slots=True)
class _Unkeyed:
    """A progress that does not count when it is asked whether the same was read before."""

    progress: Progress = field(compare=False)


def read_tracing(
    path: str | os.PathLike[str],
    wishes: ReadingWishes | None = None,
    progress: Progress = SILENT,
) -> Tracing:
    """Read a foreign file in a process of its own.

    Raises:
        Cancelled: the progress was stopped.
        FileError: it is not there, cannot be read, is of no known kind, or broke a limit.
        InputError: what is wrong with it, with the file's name.
    """
    return read_bytes(os.fspath(path), file_bytes(path), wishes or ReadingWishes(), progress)


def read_bytes(
    name: str, data: bytes, wishes: ReadingWishes, progress: Progress = SILENT
) -> Tracing:
    """Read the bytes of a foreign file in a process of its own; the same ones once only.

    Raises:
        Cancelled: the progress was stopped.
        FileError: it is of no known kind, or broke a limit.
        InputError: what is wrong with it, with the file's name.
    """
    return _read_once(name, data, wishes, _Unkeyed(progress))


@lru_cache(maxsize=4)
def _read_once(name: str, data: bytes, wishes: ReadingWishes, unkeyed: _Unkeyed) -> Tracing:
    ending = Path(name).suffix.lower()
    request = {"ending": ending, "wishes": to_plain(wishes)}
    return tracing_from(_asked(name, request, data, unkeyed.progress))


def read_view(path: str | os.PathLike[str], progress: Progress = SILENT) -> PictureView:
    """How a picture looks, read in a process of its own.

    Raises:
        Cancelled: the progress was stopped.
        FileError: it is not there, cannot be read, is of no known kind, or broke a limit.
        InputError: it is no whole picture, with the file's name.
    """
    return view_from(_asked(os.fspath(path), {}, file_bytes(path), progress))


def file_bytes(path: str | os.PathLike[str]) -> bytes:
    """The bytes of a plain file of a kind that is read.

    Raises:
        FileError: it is not there, cannot be read, is empty, too large or of no known kind.
    """
    name = os.fspath(path)
    ending = Path(name).suffix.lower()
    if ending not in READERS:
        hint = nearest_word(ending, READERS)
        known = ", ".join(READERS)
        raise FileError(
            f"{name}: files ending in {ending or 'nothing'} are not read; expected one of {known}"
            f"{f' ({hint})' if hint else ''}"
        )
    try:
        if not stat.S_ISREG(os.stat(name).st_mode):
            raise FileError(f"{name}: is no plain file")
        with open(name, "rb") as file:
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise FileError(f"{name}: there is no such file") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise FileError(f"{name}: cannot be read: {reason}") from None
    if len(data) > MOST_BYTES:
        raise FileError(f"{name}: is larger than {MOST_BYTES // 2**20} MiB, the most that is read")
    if not data:
        raise FileError(f"{name}: is empty")
    return data


def _asked(name: str, request: dict[str, Any], data: bytes, progress: Progress) -> dict[str, Any]:
    """What the reading process answers about the bytes of a file; its refusals are raised."""
    answer = _ask(name, json.dumps(request).encode() + b"\n" + data, progress)
    if "problems" in answer:
        raise InputError(Problem(**{**problem, "file": name}) for problem in answer["problems"])
    if "fault" in answer:
        raise FileError(f"{name}: cannot be understood: {answer['fault']}")
    return answer


def _ask(name: str, request: bytes, progress: Progress) -> dict[str, Any]:
    """The answer of the reading process."""
    call = [sys.executable, "-c", _PROGRAM, json.dumps(sys.path)]
    # threads of the number library take address space each, and are of no use here
    single = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MKL_NUM_THREADS": "1"}
    try:
        # a file, not a pipe: the process reads as it likes while its answer is waited for
        with tempfile.TemporaryFile() as asked:
            asked.write(request)
            asked.seek(0)
            process = subprocess.Popen(
                call, stdin=asked, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                env={**os.environ, **single},
            )  # fmt: skip
    except OSError as error:
        raise FileError(f"{name}: no process could be started to read it: {error}") from None
    try:
        said, complaints = _talk(process, name, progress)
    except BaseException:  # whatever ends the waiting, the process does not outlive it
        process.kill()
        process.communicate()
        raise
    try:
        answer = json.loads(said)
    except ValueError:
        last = complaints.decode("utf-8", "replace").strip().splitlines()
        why = last[-1] if last else f"it ended with {process.returncode}"
        if "MemoryError" in why or process.returncode in (-9, -6):
            why = f"it needs more than {MOST_MEMORY // 2**30} GiB of memory"
        raise FileError(f"{name}: its reader failed: {why}") from None
    return cast("dict[str, Any]", answer)


def _talk(process: subprocess.Popen[bytes], name: str, progress: Progress) -> tuple[bytes, bytes]:
    """What the process says and what it complains of, waited for no longer than is allowed."""
    end = time.monotonic() + SECONDS
    while True:
        with contextlib.suppress(subprocess.TimeoutExpired):
            return process.communicate(timeout=LOOK)
        if progress.is_stopped():
            raise Cancelled
        if time.monotonic() > end:
            raise FileError(
                f"{name}: took longer than {SECONDS:g} s to read and was given up; save it simpler"
            )


def serve() -> None:
    """Read one file from standard input, and answer on standard output: the other process."""
    _limit_memory()
    answers, sys.stdout = sys.stdout, sys.stderr  # a library that prints must not spoil the answer
    request, _, data = sys.stdin.buffer.read().partition(b"\n")
    asked = json.loads(request)
    try:
        answer = _answered(asked, data)
    except InputError as error:
        keys = ("where", "text", "expected", "hint", "line")
        answer = {"problems": [{k: getattr(p, k) for k in keys} for p in error.problems]}
    except ProfilestackError as error:
        answer = {"fault": str(error)}
    except MemoryError:
        answer = {"fault": f"it needs more than {MOST_MEMORY // 2**30} GiB of memory"}
    except RecursionError:
        answer = {"fault": "it is nested too deep"}
    except Exception as error:  # a foreign library stumbled over a foreign file
        answer = {"fault": f"{type(error).__name__}: {error}"[:500]}
    answers.write(json.dumps(answer))


def _answered(asked: dict[str, Any], data: bytes) -> dict[str, Any]:
    if "wishes" not in asked:
        return view_to_plain(view_of(data))
    return tracing_to_plain(reader_for(asked["ending"])(data, from_plain(asked["wishes"])))


def reader_for(ending: str) -> Reader:
    """The reader of files with that ending (lower case, with its dot)."""
    module, _, function = READERS[ending].partition(":")
    found: Reader = getattr(import_module(f"profilestack.files.targets.{module}"), function)
    return found


def _limit_memory() -> None:
    try:
        import resource
    except ImportError:  # Windows: the time limit and the budgets remain
        return
    _, hard = resource.getrlimit(resource.RLIMIT_AS)
    most = MOST_MEMORY if hard == resource.RLIM_INFINITY else min(MOST_MEMORY, hard)
    resource.setrlimit(resource.RLIMIT_AS, (most, hard))
