"""Offers unsaved work that a run of the app left behind when it died."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from functools import partial
from typing import TYPE_CHECKING

from profilestack.desktop.notices import Notice
from profilestack.errors import FileError
from profilestack.session import journal
from profilestack.session.journal import Kept

if TYPE_CHECKING:
    from profilestack.desktop.window import Window

KEPT_FOR = timedelta(days=30)
"""So long discarded work can still be found in the folder of the journals."""


def offer_recovery(window: Window) -> int:
    """Offer each journal of a dead run in this window; how many there are."""
    running = window.desk.running
    journal.clear_discarded(running, datetime.now().astimezone() - KEPT_FOR)
    found, broken = journal.left_behind(running)
    if broken:
        text = "Unsaved work of an earlier run cannot be read."
        window.notices.show_notice(Notice("broken journals", text, broken, grave=True))
    for kept in reversed(found):  # the newest ends at the top
        _offer(window, kept)
    return len(found)


def _offer(window: Window, kept: Kept) -> None:
    when = kept.written.strftime("%d %b, %H:%M")
    last = f" Last step: {kept.label}." if kept.label else ""
    text = f"{kept.called} was not saved when profilestack ended unexpectedly ({when}).{last}"
    choices: tuple[tuple[str, Callable[[], object]], ...] = (
        ("Restore", partial(_restore, window, kept)),
        ("Discard", partial(_discard, window, kept)),
    )
    window.notices.show_notice(Notice(_about(kept), text, choices=choices))


def _restore(window: Window, kept: Kept) -> None:
    try:
        claimed = journal.claim(kept, window.desk.running)
    except FileError as error:
        window.notices.show_notice(Notice(_about(kept), str(error), grave=True))
        return
    if claimed is None:
        window.document.said.emit(f"{kept.called} was restored in another window already")
        return
    window.desk.restore(claimed, window)


def _discard(window: Window, kept: Kept) -> None:
    gone = journal.discard(kept)
    text = f"The unsaved work on {kept.called} is discarded."
    choices = (("Take it back", partial(_take_back, window, gone)),)
    window.notices.show_notice(Notice(_about(kept), text, choices=choices))


def _take_back(window: Window, gone: Kept) -> None:
    _offer(window, journal.take_back(gone))


def _about(kept: Kept) -> str:
    return f"journal {kept.place.name.removesuffix(journal.DISCARDED)}"
