"""The menu Help."""

from __future__ import annotations

from typing import TYPE_CHECKING

from profilestack.desktop.about import AboutDialog
from profilestack.desktop.action_row import ActionRow, StandardKey
from profilestack.desktop.help import show_help

if TYPE_CHECKING:
    from profilestack.desktop.window import Window


def _about(window: Window) -> None:
    dialog = AboutDialog(window)
    dialog.open()


HELP = (
    ActionRow(
        "help", "Help/help", "&Help on this part", "Say what the part with the focus is for",
        show_help, StandardKey.HelpContents, keys="F1",
    ),
    ActionRow(
        "about", "Help/about", "&About profilestack", "Version, licences, a report on this system",
        _about,
    ),
)  # fmt: skip
