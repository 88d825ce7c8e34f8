"""The menu Output: paper, pictures, the report."""

from __future__ import annotations

from typing import TYPE_CHECKING

from profilestack.desktop.action_row import ActionRow, StandardKey

if TYPE_CHECKING:
    from profilestack.desktop.window import Window


def _why_not(window: Window) -> str:
    return window.outputs.why_not()


OUTPUT = (
    ActionRow(
        "print", "Output/paper", "&Print the full-size section…",
        "See the sheets of the full-size section, print them or save them as a PDF",
        lambda window: window.outputs.show_template(), StandardKey.Print, why_not=_why_not,
    ),
    ActionRow(
        "save_picture", "Output/picture", "Save the p&icture…",
        "Draw the cut into a PNG, SVG or PDF file",
        lambda window: window.outputs.save_picture(), keys="Ctrl+Shift+E", why_not=_why_not,
    ),
    ActionRow(
        "copy_picture", "Output/picture", "&Copy the picture", "Put the picture on the clipboard",
        lambda window: window.outputs.copy_picture(), keys="Ctrl+Shift+C", why_not=_why_not,
    ),
    ActionRow(
        "report", "Output/report", "&Report…",
        "Passes, volumes, leftover, overcut, ridges and cautions in words, or as JSON",
        lambda window: window.outputs.show_report(), keys="Ctrl+Shift+R", why_not=_why_not,
    ),
)  # fmt: skip
