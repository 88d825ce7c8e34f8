"""The menu bar, from the table of actions."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from profilestack.desktop.actions import ROWS, refresh_actions
from profilestack.session.recent import menu_names

if TYPE_CHECKING:
    from profilestack.desktop.window import Window

TITLES = {
    "File": "&File", "Edit": "&Edit", "View": "&View", "Output": "&Output", "Help": "&Help",
}  # fmt: skip


def make_menus(window: Window) -> dict[str, QMenu]:
    """Fill the menu bar; lines part the groups of a menu."""
    menus: dict[str, QMenu] = {}
    last = ""
    for row in ROWS:
        if row.menu not in menus:
            menus[row.menu] = _menu(window, TITLES[row.menu])
        elif row.place != last:
            menus[row.menu].addSeparator()
        last = row.place
        menus[row.menu].addAction(window.actions_by_name[row.name])
    _add_recent(window, menus["File"])
    _add_panels(window, menus["View"])
    return menus


def _menu(window: Window, title: str) -> QMenu:
    menu = window.menuBar().addMenu(title)
    menu.setToolTipsVisible(True)
    menu.aboutToShow.connect(partial(refresh_actions, window))
    return menu


def _add_recent(window: Window, menu: QMenu) -> None:
    recent = QMenu("Open &recent", menu)
    recent.setToolTipsVisible(True)
    recent.aboutToShow.connect(partial(fill_recent, window, recent))
    window.recent_menu = recent
    menu.insertMenu(window.actions_by_name["example"], recent)


def fill_recent(window: Window, menu: QMenu) -> None:
    """One line for each file that was open last."""
    menu.clear()
    files = window.desk.settings.recent
    for number, (name, title) in enumerate(zip(files, menu_names(files), strict=True), 1):
        digit = f"&{number} " if number < 10 else ""
        action = menu.addAction(f"{digit}{title.replace('&', '&&')}")
        action.setToolTip(name)
        action.triggered.connect(partial(_open_recent, window, Path(name)))
    if not files:
        action = menu.addAction("No file was open yet")
        action.setEnabled(False)


def _open_recent(window: Window, path: Path, _checked: bool = False) -> None:
    if not path.exists():
        window.desk.forget_recent(path)
        window.document.said.emit(f"{path} is not there any more; it was taken off the list")
        return
    window.desk.open(path, window)


def _add_panels(window: Window, menu: QMenu) -> None:
    panels = QMenu("&Panels", menu)
    for dock in window.docks.values():
        action = dock.toggleViewAction()
        action.setToolTip(f"Show or hide the panel {dock.windowTitle()}")
        panels.addAction(action)
    menu.insertMenu(window.actions_by_name["reset_layout"], panels)
