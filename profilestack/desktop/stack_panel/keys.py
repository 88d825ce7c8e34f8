"""The keys and the menu of the table of passes."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from profilestack.desktop.stack_panel.commands import PassCommands
from profilestack.drawing.wording import setup_text
from profilestack.stack import FACE

Standard = QKeySequence.StandardKey
Command = Callable[[], None]
ALWAYS = ("Paste", "Choose all")
"""What can be done without a chosen pass."""


def command_rows(do: PassCommands) -> tuple[tuple[str, Standard | str, Command], ...]:
    """What can be done: its words, its key, the command."""
    return (
        ("Cut earlier", "Alt+Up", do.earlier),
        ("Cut later", "Alt+Down", do.later),
        ("Switch off or on", "Space", do.switch),
        ("Rough out or finish", "", do.rough_out),
        ("Duplicate", "Ctrl+D", do.duplicate),
        ("Mirror", "Ctrl+Shift+M", do.mirror),
        ("Cut out", Standard.Cut, do.cut),
        ("Copy", Standard.Copy, do.copy),
        ("Paste", Standard.Paste, do.paste),
        ("Delete", Standard.Delete, do.delete),
        ("Choose all", Standard.SelectAll, do.choose_all),
    )


def command_of(do: PassCommands, event: QKeyEvent) -> Command | None:
    """The command that a key stands for."""
    pressed = QKeySequence(event.keyCombination())
    for _, keys, command in command_rows(do):
        if isinstance(keys, Standard):
            if event.matches(keys):
                return command
        elif pressed == QKeySequence(keys):
            return command
    return None


def menu_of(do: PassCommands, parent: QWidget) -> QMenu:
    """A menu of what can be done with the chosen passes."""
    menu = QMenu(parent)
    menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    menu.addMenu(_setups_of(do, menu))
    for word, keys, command in command_rows(do):
        action = menu.addAction(word)
        action.setShortcut(keys)
        # shown only: the table itself listens to its keys
        action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        action.setShortcutVisibleInContextMenu(True)
        action.setEnabled(bool(do.document.chosen) or word in ALWAYS)
        action.triggered.connect(command)
    return menu


def _setups_of(do: PassCommands, parent: QMenu) -> QMenu:
    """How the blank may lie for the chosen passes; what holds for all of them is checked."""
    stack, chosen = do.document.stack, do.document.chosen
    menu = QMenu("Setup", parent)
    menu.setEnabled(bool(chosen))
    now = {stack.passes[place].setup for place in chosen}
    for setup in (FACE, *stack.setups):
        action = menu.addAction(setup_text(stack, setup.name))
        action.setCheckable(True)
        action.setChecked(now == {setup.name})
        action.triggered.connect(partial(do.lay, setup.name))
    return menu
