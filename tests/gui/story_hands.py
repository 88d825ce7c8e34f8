"""Two users: one who has only a mouse (and types what must be written), one who has only keys."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QComboBox,
    QFileDialog,
    QLineEdit,
    QMenu,
    QPushButton,
    QTabBar,
    QWidget,
)
from pytestqt.qtbot import QtBot

from profilestack.desktop.window import Window

Key, Held = Qt.Key, Qt.KeyboardModifier
LEFT = Qt.MouseButton.LeftButton
TRIES = 500
"""So often it is looked whether a file is asked for, every 20 ms."""

FURTHEST = 120
"""Nobody presses Tab more often than this to get somewhere."""


class Mouse:
    """Clicks on what can be seen; letters are typed only into fields that were clicked on."""

    def __init__(self, qtbot: QtBot, window: Window) -> None:
        self.qtbot, self.window = qtbot, window

    def click(self, widget: QWidget, at: QPoint | None = None) -> None:
        assert widget.isVisible()
        assert widget.isEnabled(), widget.toolTip()
        place = widget.rect().center() if at is None else at
        QTest.mouseClick(widget, LEFT, Held.NoModifier, place)

    def tab(self, title: str) -> None:
        """Bring a panel to the front by its tab."""
        for bar in self.window.findChildren(QTabBar):
            for index in range(bar.count()):
                if bar.tabText(index) == title and bar.isVisible():
                    self.click(bar, bar.tabRect(index).center())
                    return
        raise AssertionError(f"no tab is called {title}")

    def menu(self, title: str, name: str) -> None:
        """Choose an action from a menu of the menu bar."""
        bar, action = self.window.menuBar(), self.window.actions_by_name[name]
        menu = self.window.menus[title]
        self.click(bar, bar.actionGeometry(menu.menuAction()).center())
        self.qtbot.waitUntil(menu.isVisible)
        self.choose(menu, action)

    def choose(self, menu: QMenu, action: QAction) -> None:
        assert action.isEnabled(), action.toolTip()
        self.click(menu, menu.actionGeometry(action).center())

    def pick(self, box: QComboBox, text: str) -> None:
        """Choose a line of a box that folds out."""
        self.click(box)
        view: QAbstractItemView = box.view()
        self.qtbot.waitUntil(view.isVisible)
        # what follows the first click too closely would count as its second half
        QTest.qWait(QApplication.doubleClickInterval() + 50)
        index = box.model().index(box.findText(text), 0)
        view.scrollTo(index)
        QTest.mouseMove(view.viewport(), view.visualRect(index).center())
        self.click(view.viewport(), view.visualRect(index).center())
        self.qtbot.waitUntil(lambda: box.currentText() == text)

    def write(self, field: QLineEdit, text: str) -> None:
        """Write into a field, and leave it by Enter."""
        self.click(field)
        field.selectAll()
        QTest.keyClicks(field, text)
        QTest.keyClick(field, Key.Key_Return)

    def drag(self, widget: QWidget, begin: QPoint, end: QPoint) -> None:
        QTest.mouseMove(widget, begin)
        QTest.mousePress(widget, LEFT, Held.NoModifier, begin)
        for share in (0.25, 0.5, 0.75, 1.0):
            QTest.mouseMove(widget, begin + (end - begin) * share)
            QTest.qWait(5)
        QTest.mouseRelease(widget, LEFT, Held.NoModifier, end)

    def answer(self, path: Path) -> None:
        """Name the file in the next question for one, and click on its button."""

        def reply(dialog: QFileDialog) -> None:
            (name,) = [line for line in dialog.findChildren(QLineEdit) if line.isVisible()][:1]
            self.click(name)
            name.selectAll()
            QTest.keyClicks(name, str(path))
            (save,) = [
                button
                for button in dialog.findChildren(QPushButton)
                if button.text().replace("&", "") == "Save"
            ]
            self.click(save)

        when_asked(reply)


class Keys:
    """Presses keys, wherever the focus is."""

    def __init__(self, qtbot: QtBot) -> None:
        self.qtbot = qtbot

    @property
    def focus(self) -> QWidget:
        widget = QApplication.focusWidget()
        assert widget is not None, "the focus is lost"
        return widget

    def press(self, key: Key, held: Held = Held.NoModifier) -> None:
        QTest.keyClick(self.focus, key, held)

    def control(self, key: Key, held: Held = Held.NoModifier) -> None:
        """Press a key with Ctrl, and with what else is held."""
        self.press(key, Held.ControlModifier | held)

    def write(self, text: str) -> None:
        QTest.keyClicks(self.focus, text)

    def go(self, name: str) -> QWidget:
        """Press Tab until the focus is on what is called so."""
        met = []
        for _ in range(FURTHEST):
            if name in called(self.focus):
                return self.focus
            met.append(called(self.focus)[0])
            self.press(Key.Key_Tab)
        raise AssertionError(f"Tab never led to {name!r}; it led to {met}")

    def answer(self, path: Path) -> None:
        """Name the file in the next question for one; the focus is on its name already."""

        def reply(dialog: QFileDialog) -> None:
            line = dialog.focusWidget()
            assert isinstance(line, QLineEdit), "the name can be written at once"
            line.selectAll()
            QTest.keyClicks(line, str(path))
            QTest.keyClick(line, Key.Key_Return)

        when_asked(reply)


def called(widget: QWidget) -> tuple[str, ...]:
    """What a part of the window is called: aloud, and by what is written on it."""
    text = getattr(widget, "text", None)
    written = text() if callable(text) else ""
    return widget.accessibleName(), str(written).replace("&", "")


def when_asked(reply: Callable[[QFileDialog], None]) -> None:
    """Reply to the next question for a file, which stops everything else while it stands."""
    app = QApplication.instance()
    assert app is not None, "there is a window"
    timer = QTimer(app)
    tries = itertools.count()

    def look() -> None:
        dialog = QApplication.activeModalWidget()
        if isinstance(dialog, QFileDialog) and dialog.isActiveWindow():
            timer.deleteLater()
            try:
                reply(dialog)
            except BaseException:
                dialog.reject()  # else it would stand for ever
                raise
        elif next(tries) > TRIES:
            timer.deleteLater()
            raise AssertionError("nobody asked for a file")

    timer.timeout.connect(look)
    timer.start(20)
