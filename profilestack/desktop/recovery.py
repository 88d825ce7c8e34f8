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

RESTORE, DISCARD, LATER = "Restore", "Discard unsaved work", "Close"
"""What can be done with what a run left behind."""

NO_PAST = "Its earlier steps cannot be undone any more."

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
        (RESTORE, partial(_restore, window, kept)),
        (DISCARD, partial(_discard, window, kept)),
    )
    notice = Notice(_about(kept), f"{text} {NO_PAST}", choices=choices, tips=_tips(kept))
    window.notices.show_notice(notice)


def _tips(kept: Kept) -> tuple[tuple[str, str], ...]:
    """What becomes of the work, by the word of each button."""
    stays = "no file has it yet" if kept.path is None else f"{kept.path} stays as it was saved"
    return (
        (RESTORE, "Open the document as it was at its last step, not saved yet"),
        (DISCARD, f"Throw away what was changed since the last saving; {stays}"),
        (LATER, "Leave it for now: it is offered again at the next start"),
    )


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
