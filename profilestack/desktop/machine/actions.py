"""What the menus have for the machine: run sheet and exports, and the spread in the view."""

from __future__ import annotations

from typing import TYPE_CHECKING

from profilestack.desktop.action_row import ActionRow

if TYPE_CHECKING:
    from profilestack.desktop.window import Window


def _why_not(window: Window) -> str:
    return window.outputs.why_not()


MACHINE = (
    ActionRow(
        "sheet", "Output/machine", "Run s&heet…",
        "See the run sheet to take along to the machine, print it or save it as a PDF",
        lambda window: window.machine.show_sheet(), keys="Ctrl+Shift+P", why_not=_why_not,
    ),
    ActionRow(
        "export", "Output/machine", "&Export…",
        "Write DXF, SVG, a table of steps, a report or machine code",
        lambda window: window.machine.show_export(), keys="Ctrl+Shift+X", why_not=_why_not,
    ),
)  # fmt: skip

SPREAD = (
    ActionRow(
        "spread", "View/spread", "Spread of the shop's &usual errors",
        "Show in the leftover strip how far the fit spreads with the shop's usual errors",
        lambda window: window.spread.switch(), why_not=lambda window: window.spread.why_not(),
        is_on=lambda window: window.spread.is_on,
    ),
)  # fmt: skip
