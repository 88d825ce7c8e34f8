"""Journals: what is not saved yet, kept beside, so that a crash or a power cut loses seconds.

Each open document has one journal while it is modified. It names the run of the app that wrote it
(see :mod:`profilestack.session.running`); at the next start the journals of dead runs are offered.
"""

from __future__ import annotations

import json
import os
import secrets
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from profilestack.errors import FileError, InputError, ProfilestackError
from profilestack.files.saving import DISK, FileLayer, save_bytes
from profilestack.files.stack_file import read_stack, read_stack_text, stack_text
from profilestack.session.running import Running, is_alive
from profilestack.session.setting_aside import set_aside
from profilestack.stack import FileTarget, Stack

FORMAT = "profilestack-journal/1"
ENDING = ".journal"
DISCARDED = ".discarded"
"""What the user did not want back is kept till the start after the next."""

MOST_BYTES = 64 * 2**20
TEXTS = ("run", "path", "folder", "title", "label", "written", "document")


@dataclass(frozen=True, slots=True)
class Kept:
    """A journal's content: the stack, where it was saved (None: nowhere yet), the last edit."""

    run: str
    stack: Stack
    path: Path | None
    label: str
    written: datetime
    place: Path

    @property
    def called(self) -> str:
        """How the document is called."""
        return self.path.name if self.path else self.stack.title or "a new board"


class Journal:
    """The journal of one open document."""

    def __init__(
        self, running: Running, layer: FileLayer = DISK, place: Path | None = None
    ) -> None:
        """``place``: a journal that was taken over, see :func:`claim`."""
        self._running = running
        self._layer = layer
        self._written: Stack | None = None
        self.place = place or _new_place(running)

    def write(self, stack: Stack, path: Path | None, label: str) -> bool:
        """Keep this state, unless it is the one that is kept already; whether it was written.

        Raises:
            FileError: it could not be written; the former one stands.
        """
        if stack is self._written:
            return False
        self._running.begin()
        now = datetime.now().astimezone()
        text = journal_text(Kept(self._running.name, stack, path, label, now, self.place))
        save_bytes(self.place, text.encode("ascii"), self._layer, keeps_former=False)
        self._written = stack
        return True

    def clear(self) -> None:
        """Nothing is left to be kept: the document is saved, or given up on purpose."""
        self._written = None
        self.place.unlink(missing_ok=True)


def journal_text(kept: Kept) -> str:
    """The text of a journal.

    Raises:
        FileError: the stack holds what no file can hold.
    """
    target = kept.stack.target
    folder = target.folder if isinstance(target, FileTarget) else ""
    try:
        document = stack_text(kept.stack)
    except InputError as error:
        raise FileError(f"the document cannot be kept: {error}") from error
    return json.dumps({
        "format": FORMAT, "run": kept.run, "path": os.path.abspath(kept.path) if kept.path else "",
        "folder": folder, "title": kept.stack.title, "label": kept.label,
        "written": kept.written.isoformat(timespec="seconds"), "document": document,
    }, indent=1)  # fmt: skip


def read_journal(place: Path) -> Kept:
    """The content of a journal.

    Raises:
        FileError: it cannot be read.
        ValueError: it is broken; the message says how.
    """
    try:
        with open(place, "rb") as file:
            data = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise FileError(f"{place}: cannot be read: {error.strerror}") from error
    if len(data) > MOST_BYTES:
        raise ValueError("is too large for a journal")
    try:
        tables: Any = json.loads(data)
    except RecursionError:
        raise ValueError("is nested too deep") from None
    if not isinstance(tables, dict) or tables.get("format") != FORMAT:
        raise ValueError(f"is not of the format {FORMAT}")
    if wrong := [key for key in TEXTS if not isinstance(tables.get(key), str)]:
        raise ValueError(f"{wrong[0]}: is no text")
    try:
        stack = read_stack_text(tables["document"], os.path.join(tables["folder"], place.name))
    except InputError as error:
        raise ValueError(f"its document: {error}") from None
    return Kept(
        run=tables["run"],
        stack=stack,
        path=Path(tables["path"]) if tables["path"] else None,
        label=tables["label"],
        written=datetime.fromisoformat(tables["written"]).astimezone(),
        place=place,
    )


def left_behind(running: Running) -> tuple[tuple[Kept, ...], tuple[str, ...]]:
    """The journals that dead runs left, newest first, and messages on broken ones (set aside)."""
    found, messages = [], []
    for place in sorted(running.folder.glob(f"*{ENDING}")):
        run = place.name.removesuffix(ENDING).rpartition("-")[0]
        if run == running.name or is_alive(running.folder, run):
            continue
        try:
            kept = read_journal(place)
            if _is_saved(kept):
                place.unlink(missing_ok=True)
            else:
                found.append(kept)
        except FileError as error:
            messages.append(str(error))
        except ValueError as error:
            messages.append(f"{place.name}: a journal that is broken: {error}{set_aside(place)}")
    return tuple(sorted(found, key=lambda kept: kept.written, reverse=True)), tuple(messages)


def claim(kept: Kept, running: Running) -> Kept | None:
    """Take a journal over, so that no other run offers it; None where another was quicker.

    Raises:
        FileError: the folder cannot be written to.
    """
    running.begin()
    place = _new_place(running)
    try:
        os.rename(kept.place, place)
    except FileNotFoundError:
        return None
    except OSError as error:
        raise FileError(f"{kept.place}: cannot be taken over: {error.strerror}") from error
    return replace(kept, run=running.name, place=place)


def discard(kept: Kept) -> Kept:
    """Offer it no more; it can still be taken back, see :func:`take_back`."""
    place = kept.place.with_name(kept.place.name + DISCARDED)
    os.replace(kept.place, place)
    return replace(kept, place=place)


def take_back(kept: Kept) -> Kept:
    """What was discarded is a journal again."""
    place = kept.place.with_name(kept.place.name.removesuffix(DISCARDED))
    os.replace(kept.place, place)
    return replace(kept, place=place)


def _new_place(running: Running) -> Path:
    return running.folder / f"{running.name}-{secrets.token_hex(3)}{ENDING}"


def _is_saved(kept: Kept) -> bool:
    """Whether the run died after it had saved the document, before it cleared the journal."""
    try:
        return kept.path is not None and read_stack(kept.path) == kept.stack
    except ProfilestackError:
        return False


def clear_discarded(running: Running, before: datetime) -> None:
    """Delete what was discarded before a day."""
    for place in running.folder.glob(f"*{DISCARDED}"):
        if place.stat().st_mtime < before.timestamp():
            place.unlink(missing_ok=True)
