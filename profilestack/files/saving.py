"""Saving so that the file is either the old one or the new one, whole, whatever fails.

The new text is written beside the old file, counted, forced to the disk, and only then put in its
place by one rename. The former version stays beside it as ``NAME.bak``.
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from typing import Protocol

from profilestack.errors import FileError
from profilestack.files.documents import former_copy


class FileLayer(Protocol):
    """The calls to the disk that saving makes; each may raise OSError."""

    def create(self, path: str, mode: int | None) -> int:
        """Make a new file and open it; gives its descriptor. It must not exist.

        ``mode``: its permissions; None: the usual ones.
        """

    def write(self, descriptor: int, data: bytes) -> int:
        """Write; gives how many bytes were taken."""

    def size(self, descriptor: int) -> int:
        """How many bytes the open file holds."""

    def sync(self, descriptor: int) -> None:
        """Force the file to the disk."""

    def close(self, descriptor: int) -> None:
        """Close the file."""

    def link(self, source: str, target: str) -> None:
        """Give the file ``source`` a second name."""

    def read(self, path: str) -> bytes:
        """All of a file."""

    def replace(self, source: str, target: str) -> None:
        """Rename in one step; ``target`` may exist."""

    def remove(self, path: str) -> None:
        """Delete a file."""

    def sync_folder(self, path: str) -> None:
        """Force a folder's names to the disk."""


class Disk:
    """The real disk."""

    def create(self, path: str, mode: int | None) -> int:
        """See :class:`FileLayer`."""
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
        descriptor = os.open(path, flags, 0o666)
        if mode is not None and hasattr(os, "fchmod"):
            os.fchmod(descriptor, mode)
        return descriptor

    def write(self, descriptor: int, data: bytes) -> int:
        """See :class:`FileLayer`."""
        return os.write(descriptor, data)

    def size(self, descriptor: int) -> int:
        """See :class:`FileLayer`."""
        return os.fstat(descriptor).st_size

    def sync(self, descriptor: int) -> None:
        """See :class:`FileLayer`."""
        os.fsync(descriptor)

    def close(self, descriptor: int) -> None:
        """See :class:`FileLayer`."""
        os.close(descriptor)

    def link(self, source: str, target: str) -> None:
        """See :class:`FileLayer`."""
        os.link(source, target)

    def read(self, path: str) -> bytes:
        """See :class:`FileLayer`."""
        with open(path, "rb") as file:
            return file.read()

    def replace(self, source: str, target: str) -> None:
        """See :class:`FileLayer`."""
        os.replace(source, target)

    def remove(self, path: str) -> None:
        """See :class:`FileLayer`."""
        os.remove(path)

    def sync_folder(self, path: str) -> None:
        """See :class:`FileLayer`."""
        descriptor = os.open(path, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


DISK: FileLayer = Disk()

_NO_LINKS = {errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK, errno.EXDEV, errno.EACCES}
"""How a disk says that a file cannot have two names."""


def save_text(path: str | os.PathLike[str], text: str, layer: FileLayer = DISK) -> None:
    """Save a text as UTF-8; the former version is kept as ``.bak``.

    A link is followed: the file it leads to is replaced, not the link.

    Raises:
        FileError: it could not be saved, and why; the former version is whole and in its place.
    """
    save_bytes(path, text.encode("utf-8"), layer)


def save_bytes(
    path: str | os.PathLike[str],
    data: bytes,
    layer: FileLayer = DISK,
    *,
    keeps_former: bool = True,
) -> None:
    """Save bytes as :func:`save_text` saves a text.

    What can be made again (a picture, sheets) need not keep its former version as ``.bak``.

    Raises:
        FileError: as for :func:`save_text`.
    """
    name = os.fspath(path)
    target = os.path.realpath(name)
    mode = _mode_of(target, name)
    beside = os.path.join(os.path.dirname(target), f".profilestack-{secrets.token_hex(6)}.tmp")
    try:
        _write_whole(beside, data, mode, layer)
        if mode is not None and keeps_former:
            _keep_former(target, beside, mode, layer)
        layer.replace(beside, target)
    except OSError as error:
        with contextlib.suppress(OSError):
            layer.remove(beside)
        raise FileError(_reason(name, error, mode is not None)) from error
    # the data is safe and the name is set; a disk that cannot sync folders only sets it later
    with contextlib.suppress(OSError):
        layer.sync_folder(os.path.dirname(target))


def check_can_save(path: str | os.PathLike[str]) -> None:
    """Look, before long work or before one of several files is saved, whether saving can succeed.

    Raises:
        FileError: it cannot, and why.
    """
    name = os.fspath(path)
    target = os.path.realpath(name)
    _mode_of(target, name)
    folder = os.path.dirname(target)
    if not os.path.isdir(folder):
        raise FileError(_reason(name, OSError(errno.ENOENT, ""), False))
    if not os.access(folder, os.W_OK | os.X_OK):
        raise FileError(_reason(name, OSError(errno.EACCES, ""), False))


def _mode_of(target: str, name: str) -> int | None:
    """The permissions of the file that is there, or None."""
    try:
        status = os.stat(target)
    except FileNotFoundError:
        return None
    except OSError as error:
        raise FileError(_reason(name, error, False)) from error
    if stat.S_ISDIR(status.st_mode):
        raise FileError(f"{name}: was not saved: it is a folder; choose a name inside it")
    if not stat.S_ISREG(status.st_mode):  # a rename would put a file in the place of the device
        raise FileError(f"{name}: was not saved: it is a device, not a file; save elsewhere")
    if not status.st_mode & 0o222:
        raise FileError(f"{name}: was not saved: it is write-protected; save under another name")
    return stat.S_IMODE(status.st_mode)


def _write_whole(path: str, data: bytes, mode: int | None, layer: FileLayer) -> None:
    """Write a new file, every byte of it, down to the disk."""
    descriptor = layer.create(path, mode)
    try:
        rest = memoryview(data)
        while rest:
            taken = layer.write(descriptor, bytes(rest))
            if taken <= 0:
                raise OSError(errno.ENOSPC, "the disk takes no more")
            rest = rest[taken:]
        layer.sync(descriptor)
        if layer.size(descriptor) != len(data):
            raise OSError(errno.EIO, "the disk did not keep every byte")
    finally:
        layer.close(descriptor)


def _keep_former(target: str, beside: str, mode: int, layer: FileLayer) -> None:
    """Give the former version its second name, ``.bak``; the first stays in place meanwhile."""
    second = f"{beside}.bak"
    try:
        try:
            layer.link(target, second)
        except OSError as error:
            if error.errno not in _NO_LINKS:
                raise
            _write_whole(second, layer.read(target), mode, layer)
        layer.replace(second, former_copy(target))
    except OSError:
        with contextlib.suppress(OSError):
            layer.remove(second)
        raise


def _reason(name: str, error: OSError, had_former: bool) -> str:
    """Why it was not saved, and what to do."""
    why = {
        errno.ENOSPC: "the disk is full; make room or save elsewhere",
        errno.EDQUOT: "your share of the disk is full; make room or save elsewhere",
        errno.EACCES: "the folder may not be written to; save elsewhere",
        errno.EPERM: "the folder may not be written to; save elsewhere",
        errno.EROFS: "the disk is read-only; save elsewhere",
        errno.ENOENT: "its folder is not there (a drive that is gone?); save elsewhere",
        errno.ENAMETOOLONG: "the name is too long; choose a shorter one",
    }.get(error.errno or 0, f"{error.strerror or error}; try again or save elsewhere")
    former = "; the former version is untouched" if had_former else ""
    return f"{name}: was not saved: {why}{former}"
