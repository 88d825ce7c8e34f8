"""Asks the system whether it wants less motion: Qt does not, its own style moves in any case.

The desktop is asked over D-Bus, and nobody waits: until it answers, and where there is none, things
may move. Where no such question is known (Windows, macOS) nothing moves: that is never wrong.
"""

from __future__ import annotations

import os
import sys
from functools import partial
from typing import Any

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QGuiApplication

from profilestack.desktop.motion import LESS

PLACES = (
    ("org.freedesktop.appearance", "reduced-motion"),
    ("org.gnome.desktop.interface", "enable-animations"),
    ("org.kde.kdeglobals.KDE", "AnimationDurationFactor"),
)
"""Settings of a desktop that speak of motion, as its portal names them."""

PATIENCE = 5000
"""The desktop may answer so late [ms]."""


def says_less(key: str, value: object) -> bool:
    """Whether a setting's value asks for less motion."""
    if key == "enable-animations":
        return value is False
    try:
        number = float(str(value))
    except ValueError:
        return False
    return number == 1.0 if key == "reduced-motion" else number == 0.0


class LessMotion(QObject):
    """Keeps :data:`LESS` of the application as the system has it; asks when the app comes up."""

    def __init__(self, app: QGuiApplication) -> None:
        super().__init__(app)
        self._app = app
        self._said: dict[str, bool] = {}
        self._calls: dict[str, Any] = {}
        app.applicationStateChanged.connect(self._look)
        self.ask()

    @property
    def is_waiting(self) -> bool:
        """Whether an answer is still to come."""
        return bool(self._calls)

    def ask(self) -> None:
        """Ask anew; the answer may come later."""
        if sys.platform in ("win32", "darwin"):
            self._tell("unknown", True)
        elif "DBUS_SESSION_BUS_ADDRESS" in os.environ:
            self._ask_desktop()

    def _look(self, state: Qt.ApplicationState) -> None:
        """Somebody who changed the setting comes back to the app."""
        if state == Qt.ApplicationState.ApplicationActive:
            self.ask()

    def _ask_desktop(self) -> None:
        try:
            from PySide6.QtDBus import QDBusConnection, QDBusMessage, QDBusPendingCallWatcher
        except ImportError:
            return  # this Qt was built without
        bus = QDBusConnection.sessionBus()
        if not bus.isConnected():
            return
        for space, key in PLACES:
            message = QDBusMessage.createMethodCall(
                "org.freedesktop.portal.Desktop", "/org/freedesktop/portal/desktop",
                "org.freedesktop.portal.Settings", "Read",
            )  # fmt: skip
            message.setArguments([space, key])
            watcher = QDBusPendingCallWatcher(bus.asyncCall(message, PATIENCE), self)
            watcher.finished.connect(partial(self._answered, key, watcher))
            self._calls[key] = watcher

    def _answered(self, key: str, watcher: Any) -> None:
        arguments = [] if watcher.isError() else watcher.reply().arguments()
        if self._calls.get(key) is watcher:
            del self._calls[key]
            self._tell(key, bool(arguments) and says_less(key, _plain(arguments[0])))
        watcher.deleteLater()

    def _tell(self, key: str, less: bool) -> None:
        self._said[key] = less
        self._app.setProperty(LESS, any(self._said.values()))


def _plain(value: Any) -> object:
    """A value out of the variants that it is wrapped in."""
    while hasattr(value, "variant"):
        value = value.variant()
    return value
