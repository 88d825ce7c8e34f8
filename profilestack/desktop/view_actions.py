"""The menu View: how large the section is shown, in which units, in which light."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from profilestack.desktop.action_row import ActionRow, StandardKey
from profilestack.desktop.help import BENCH
from profilestack.desktop.panels import PLACES

if TYPE_CHECKING:
    from profilestack.desktop.window import Window

_PARTS = ((BENCH, "the section"), *((place.name, place.title) for place in PLACES))
_UNITS = {"mm": "&Millimetres", "in": "&Inches"}
_THEMES = {"system": "Light or dark as the s&ystem says", "light": "Li&ght", "dark": "&Dark"}


def _go_to(name: str) -> Callable[[Window], None]:
    return lambda window: window.go_to(name)


def _set_units(units: str) -> Callable[[Window], None]:
    return lambda window: window.desk.set_units(units)


def _has_units(units: str) -> Callable[[Window], bool]:
    return lambda window: window.document.units == units


def _set_theme(theme: str) -> Callable[[Window], None]:
    return lambda window: window.desk.set_theme(theme)


def _has_theme(theme: str) -> Callable[[Window], bool]:
    return lambda window: window.desk.theme == theme


VIEW = (
    ActionRow(
        "fit", "View/size", "Show the whole &blank", "Show the whole blank",
        lambda window: window.bench.fit(), keys="Ctrl+0",
    ),
    ActionRow(
        "fit_chosen", "View/size", "Show the &chosen passes", "Show the chosen passes large",
        lambda window: window.bench.fit_chosen(), keys="Ctrl+Shift+0",
        why_not=lambda window: "" if window.document.chosen else "no pass is chosen",
    ),
    ActionRow(
        "zoom_in", "View/size", "&Larger", "Show the section larger",
        lambda window: window.bench.zoom_in(), StandardKey.ZoomIn, keys="Ctrl+=",
    ),
    ActionRow(
        "zoom_out", "View/size", "&Smaller", "Show the section smaller",
        lambda window: window.bench.zoom_out(), StandardKey.ZoomOut,
    ),
    *(
        ActionRow(
            f"go_{name}", "View/go", f"Go to {title}", f"Put the focus into the part {title}",
            _go_to(name), keys=f"Ctrl+{number}",
        )
        for number, (name, title) in enumerate(_PARTS, 1)
    ),
    *(
        ActionRow(
            f"units_{units}", "View/units", text, f"Show lengths in {text[1:].lower()}",
            _set_units(units), is_on=_has_units(units),
        )
        for units, text in _UNITS.items()
    ),
    *(
        ActionRow(
            f"theme_{theme}", "View/theme", text, f"{text.replace('&', '')}: the window's colours",
            _set_theme(theme), is_on=_has_theme(theme),
        )
        for theme, text in _THEMES.items()
    ),
    ActionRow(
        "reset_layout", "View/layout", "&Reset the layout",
        "Put all panels where they were at first",
        lambda window: window.reset_layout(),
    ),
)  # fmt: skip
