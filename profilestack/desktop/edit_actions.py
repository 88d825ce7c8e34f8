"""The menu Edit: undo and redo, and what is done to the chosen passes."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication

from profilestack.desktop.action_row import ActionRow, StandardKey
from profilestack.desktop.carrying import PASSES
from profilestack.session import pass_edits

if TYPE_CHECKING:
    from profilestack.desktop.window import Window


def undo(window: Window) -> None:
    """One step back; the journal follows soon. What the hand still holds is let go, no more."""
    if window.bench.section.move_now is not None:
        window.bench.section.hands.give_up()
        return
    window.document.undo()
    window.keeping.keep_soon()


def redo(window: Window) -> None:
    """One step forward; the journal follows soon."""
    window.document.redo()
    window.keeping.keep_soon()


def _why_no_undo(window: Window) -> str:
    return "" if window.document.session.undo_label else "nothing was done yet"


def _why_no_redo(window: Window) -> str:
    return "" if window.document.session.redo_label else "nothing was taken back"


def _undo_says(window: Window) -> str:
    label = window.document.session.undo_label
    return f"&Undo {_lowered(label)}" if label else "&Undo"


def _redo_says(window: Window) -> str:
    label = window.document.session.redo_label
    return f"&Redo {_lowered(label)}" if label else "&Redo"


def _lowered(label: str) -> str:
    return (label[:1].lower() + label[1:]).replace("&", "&&")


def _why_none_chosen(window: Window) -> str:
    return "" if window.document.chosen else "no pass is chosen"


def _why_no_paste(window: Window) -> str:
    data: QMimeData | None = QGuiApplication.clipboard().mimeData()
    carries = data is not None and (data.hasFormat(PASSES) or data.hasText())
    return "" if carries else "no passes were copied"


def _why_no_shift(later: bool) -> Callable[[Window], str]:
    def why(window: Window) -> str:
        chosen, count = window.document.chosen, len(window.document.stack.passes)
        if not chosen:
            return "no pass is chosen"
        if pass_edits.places_after_shift(count, chosen, later) == chosen:
            return f"it is cut {'last' if later else 'first'} already"
        return ""

    return why


EDIT = (
    ActionRow(
        "undo", "Edit/undo", "&Undo", "Take the last step back", undo, StandardKey.Undo,
        why_not=_why_no_undo,
        says=_undo_says,
    ),
    ActionRow(
        "redo", "Edit/undo", "&Redo", "Do again what was taken back", redo, StandardKey.Redo,
        why_not=_why_no_redo,
        says=_redo_says,
    ),
    ActionRow(
        "cut", "Edit/passes", "Cu&t", "Take the chosen passes out, to be pasted elsewhere",
        lambda window: window.passes.cut(), StandardKey.Cut, why_not=_why_none_chosen,
    ),
    ActionRow(
        "copy", "Edit/passes", "&Copy", "Copy the chosen passes, with their setups and bits",
        lambda window: window.passes.copy(), StandardKey.Copy, why_not=_why_none_chosen,
    ),
    ActionRow(
        "paste", "Edit/passes", "&Paste", "Put copied passes behind the chosen ones, or at the end",
        lambda window: window.passes.paste(), StandardKey.Paste, why_not=_why_no_paste,
    ),
    ActionRow(
        "duplicate", "Edit/passes", "Dupl&icate", "Put the chosen passes in once more",
        lambda window: window.passes.duplicate(), keys="Ctrl+D", why_not=_why_none_chosen,
    ),
    ActionRow(
        "delete", "Edit/passes", "&Delete", "Take the chosen passes out of the stack",
        lambda window: window.passes.delete(), StandardKey.Delete, why_not=_why_none_chosen,
    ),
    ActionRow(
        "choose_all", "Edit/passes", "Choose &all", "Choose every pass of the stack",
        lambda window: window.passes.choose_all(), StandardKey.SelectAll,
        why_not=lambda window: "" if window.document.stack.passes else "the stack has no passes",
    ),
    ActionRow(
        "mirror", "Edit/change", "&Mirror", "Put the chosen passes on the blank's other side",
        lambda window: window.passes.mirror(), keys="Ctrl+Shift+M", why_not=_why_none_chosen,
    ),
    ActionRow(
        "switch", "Edit/change", "S&witch off or on",
        "Keep the chosen passes without cutting them, or cut them again",
        lambda window: window.passes.switch(), keys="Ctrl+E", why_not=_why_none_chosen,
    ),
    ActionRow(
        "rough_out", "Edit/change", "R&ough out or finish",
        "Let the chosen passes only clear stock, or make the finished face again",
        lambda window: window.passes.rough_out(), keys="Ctrl+R", why_not=_why_none_chosen,
    ),
    ActionRow(
        "earlier", "Edit/order", "Cut &earlier", "Cut the chosen passes one place earlier",
        lambda window: window.passes.earlier(), keys="Ctrl+Shift+Up",
        why_not=_why_no_shift(later=False),
    ),
    ActionRow(
        "later", "Edit/order", "Cut &later", "Cut the chosen passes one place later",
        lambda window: window.passes.later(), keys="Ctrl+Shift+Down",
        why_not=_why_no_shift(later=True),
    ),
)  # fmt: skip
