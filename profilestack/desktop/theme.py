"""The colours of the window: a sheet of drawing paper on a bench, by day and by lamp."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication


@dataclass(frozen=True, slots=True)
class Theme:
    """Colours as #rrggbb; ``chosen_ink`` is written on ``chosen``."""

    name: str
    paper: str
    panel: str
    rule: str
    ink: str
    quiet: str
    wood: str
    wood_edge: str
    blank: str
    target: str
    leftover: str
    overcut: str
    inside: str
    chosen: str
    chosen_ink: str = "#1E2326"


LIGHT = Theme(
    "light", paper="#FAF8F4", panel="#F1EEE8", rule="#D8D2C6", ink="#1E2326", quiet="#59626A",
    wood="#E6CFA9", wood_edge="#6B4A1F", blank="#F3E7D0", target="#0060A8", leftover="#C24A00",
    overcut="#7A2E7A", inside="#00714E", chosen="#FFE9B0",
)  # fmt: skip
DARK = Theme(
    "dark", paper="#1B1E20", panel="#24282B", rule="#3A4045", ink="#ECE8E0", quiet="#A7AFB5",
    wood="#65492A", wood_edge="#E2C48E", blank="#3B2F20", target="#6DB7F2", leftover="#FF9A5A",
    overcut="#E0A0E0", inside="#4FD1A5", chosen="#FFE9B0",
)  # fmt: skip
THEMES = {theme.name: theme for theme in (LIGHT, DARK)}


def theme_now() -> Theme:
    """The theme that the application's palette asks for."""
    return (
        DARK if QApplication.palette().color(QPalette.ColorRole.Base).lightness() < 128 else LIGHT
    )


def palette_of(theme: Theme) -> QPalette:
    """The palette of ordinary widgets."""
    palette = QPalette()
    role = QPalette.ColorRole
    for which, color in (
        (role.Window, theme.panel), (role.WindowText, theme.ink), (role.Base, theme.paper),
        (role.AlternateBase, theme.panel), (role.Text, theme.ink), (role.Button, theme.panel),
        (role.ButtonText, theme.ink), (role.Highlight, theme.chosen),
        (role.HighlightedText, theme.chosen_ink), (role.ToolTipBase, theme.paper),
        (role.ToolTipText, theme.ink), (role.PlaceholderText, theme.quiet),
        (role.Link, theme.target), (role.BrightText, theme.leftover), (role.Mid, theme.rule),
        (role.Midlight, theme.rule), (role.Dark, theme.quiet), (role.Light, theme.paper),
        (role.Shadow, theme.quiet),
    ):  # fmt: skip
        palette.setColor(which, QColor(color))
    for which in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, QColor(theme.quiet))
    return palette
