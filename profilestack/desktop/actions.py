"""The actions of a window: menus, shortcuts and tooltips all come from the rows of one table."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QActionGroup, QKeySequence

from profilestack.desktop.action_row import ActionRow
from profilestack.desktop.edit_actions import EDIT
from profilestack.desktop.file_actions import FILE
from profilestack.desktop.help_actions import HELP
from profilestack.desktop.machine.actions import MACHINE, SPREAD
from profilestack.desktop.output.actions import OUTPUT
from profilestack.desktop.view_actions import VIEW

if TYPE_CHECKING:
    from profilestack.desktop.window import Window

ROWS: tuple[ActionRow, ...] = (*FILE, *EDIT, *VIEW, *SPREAD, *OUTPUT, *MACHINE, *HELP)


def make_actions(window: Window) -> dict[str, QAction]:
    """The actions of a window, by name, in the order of the table."""
    made: dict[str, QAction] = {}
    choices: dict[str, QActionGroup] = {}
    for row in ROWS:
        action = QAction(row.text, window)
        action.setObjectName(row.name)
        action.setShortcuts(row.shortcuts)
        action.triggered.connect(partial(_act, row, window))
        if row.name == "quit":
            action.setMenuRole(QAction.MenuRole.QuitRole)
        elif row.name == "about":
            action.setMenuRole(QAction.MenuRole.AboutRole)
        else:
            action.setMenuRole(QAction.MenuRole.NoRole)
        if row.is_on is not None:
            action.setCheckable(True)
            if row.place not in choices:
                choices[row.place] = QActionGroup(window)
            choices[row.place].addAction(action)
        window.addAction(action)
        made[row.name] = action
    for choice in choices.values():
        if len(choice.actions()) == 1:  # no choice of several: it is on or off
            choice.setExclusionPolicy(QActionGroup.ExclusionPolicy.None_)
    return made


def refresh_actions(window: Window) -> None:
    """Bring texts, tooltips and what can be done up to date."""
    for row in ROWS:
        action = window.actions_by_name[row.name]
        why = row.why_not(window) if row.why_not is not None else ""
        action.setEnabled(not why)
        if row.says is not None:
            action.setText(row.says(window))
        action.setToolTip(told(row, why))
        action.setStatusTip(why or row.tooltip)
        if row.is_on is not None:
            action.setChecked(row.is_on(window))


def told(row: ActionRow, why: str) -> str:
    """A tooltip: what it does, its shortcut, and why it cannot be done where it cannot."""
    keys = ", ".join(
        key.toString(QKeySequence.SequenceFormat.NativeText) for key in row.shortcuts[:1]
    )
    return f"{row.tooltip}{f' ({keys})' if keys else ''}{f'. Not now: {why}' if why else ''}"


def _act(row: ActionRow, window: Window, _checked: bool = False) -> None:
    row.slot(window)
    # a slot that changes nothing still leaves a choice as it was
    if window.is_open:
        refresh_actions(window)
