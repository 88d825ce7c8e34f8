"""The desk: all open windows, and what they share."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QObject, QSettings
from PySide6.QtWidgets import QApplication

from profilestack.desktop.document import Document
from profilestack.desktop.looks import Looks
from profilestack.desktop.notices import Notice
from profilestack.desktop.opening import opening_notice
from profilestack.desktop.window import Window
from profilestack.errors import FileError, InputError
from profilestack.files.shipped import shipped_examples_dir
from profilestack.files.stack_file import read_stack
from profilestack.files.targets import READERS
from profilestack.planning.shop import Shop
from profilestack.session.bits_at_hand import BitsAtHand
from profilestack.session.file_state import is_same_file
from profilestack.session.journal import Journal, Kept
from profilestack.session.new_board import new_board
from profilestack.session.places import Places, user_places
from profilestack.session.recent import with_recent, without
from profilestack.session.running import Running
from profilestack.session.session import Session
from profilestack.session.settings import Settings, change_settings, read_settings
from profilestack.session.shop_choice import shop_kept

EXAMPLE = "cornice/crown.stack.toml"


class Desk(QObject):
    """Opens and closes windows; holds the settings, the theme, the journals of this run."""

    def __init__(
        self,
        app: QApplication,
        theme: str | None = None,
        places: Places | None = None,
        bits: BitsAtHand | None = None,
        units: str | None = None,
    ) -> None:
        super().__init__(app)
        self.places = places or user_places()
        self.settings, self._complaint = read_settings(self.places.settings)
        self.looks = Looks(app, self, theme or self.settings.theme)
        self.running = Running(self.places.journals)
        self.bits = bits or BitsAtHand()
        self.shop, complaint = shop_kept(self.settings.shop)
        self._complaint = "\n".join(filter(None, (self._complaint, complaint)))
        self._units_now = units
        self.windows: list[Window] = []

    # -- windows -------------------------------------------------------------------------------

    def show(
        self, session: Session, near: Window | None = None, journal: Journal | None = None
    ) -> Window:
        """A window for a document, beside ``near``, or in its place where it is untouched."""
        document = Document(session)
        document.units = self.units or document.units
        document.set_shop(self.settings.shop, self.shop)
        window = Window(document, self, journal or Journal(self.running))
        self.windows.append(window)
        if near is not None and near.is_untouched:
            window.setGeometry(near.geometry())
            near.close()
        elif near is not None:
            window.move(near.pos().x() + 32, near.pos().y() + 32)
        window.show()
        if self._complaint:
            window.notices.show_notice(Notice("settings", self._complaint, grave=True))
            self._complaint = ""
        return window

    def new(self, near: Window | None = None) -> Window:
        """A window with a small blank board."""
        units = self.units or (near.document.units if near else "mm")
        return self.show(Session(new_board(units), bits=self.bits), near)

    def open_example(self, near: Window | None = None, name: str = EXAMPLE) -> Window:
        """A window with the finished example or another; saving it asks for a name."""
        stack = read_stack(shipped_examples_dir() / name)
        return self.show(Session(stack, bits=self.bits), near)

    def open(self, path: Path, near: Window | None = None) -> Window:
        """The window of a file: opened, or raised where it is open already.

        A drawing, points or a picture become the wanted profile of a new board. What is wrong
        with a file is told in ``near``, or in a window with a blank board.
        """
        if path.suffix.lower() in READERS:
            window = self.new(near)
            window.import_drawing(path)
            return window
        already = self.window_of(path)
        if already is not None:
            already.come_forward()
            already.document.said.emit(f"{path.name} is open already: here it is")
            return already
        try:
            session = Session.open(path.absolute(), self.bits)
        except (FileError, InputError) as error:
            window = near or self.new()
            window.notices.show_notice(opening_notice(self, window, path, error))
            return window
        window = self.show(session, near)
        self.remember(path)
        return window

    def open_former(self, path: Path, near: Window) -> None:
        """Open the last good copy of a file as a document that still has to be saved there."""
        copy = Path(f"{path}.bak")
        try:
            stack = read_stack(copy)
        except (FileError, InputError) as error:
            near.notices.show_notice(opening_notice(self, near, copy, error))
            return
        self.show(Session.recovered(stack, path.absolute(), self.bits), near)

    def restore(self, kept: Kept, near: Window) -> Window:
        """Unsaved work of a run that died: in its own window, not saved yet."""
        already = self.window_of(kept.path) if kept.path is not None else None
        journal = Journal(self.running, place=kept.place)
        if already is not None:
            already.document.edit(kept.stack, "Restore unsaved work")
            already.come_forward()
            already.keep()
            journal.clear()
            return already
        return self.show(Session.recovered(kept.stack, kept.path, self.bits), near, journal)

    def window_of(self, path: Path) -> Window | None:
        """The window in which a file is open."""
        for window in self.windows:
            own = window.document.session.path
            if own is not None and is_same_file(own, path):
                return window
        return None

    def forget(self, window: Window) -> None:
        """A window is closed."""
        if window in self.windows:
            self.windows.remove(window)
        if not self.windows:
            self.running.end()

    def close_all(self) -> bool:
        """Close every window, asking where something is not saved; whether all are closed."""
        return all(window.close() for window in list(self.windows))

    def keep_all(self) -> None:
        """Write the journals of all documents now."""
        for window in self.windows:
            window.keep()

    # -- settings ------------------------------------------------------------------------------

    @property
    def theme(self) -> str:
        """The theme that is wanted: "system", "light" or "dark"."""
        return self.looks.wanted

    @property
    def units(self) -> str | None:
        """The units that are wanted, for this time or always; None: each document's own."""
        return self._units_now or self.settings.units

    def set_theme(self, theme: str) -> None:
        """Another theme, for all windows and from now on."""
        self.looks.want(theme)
        self.change(lambda settings: replace(settings, theme=theme))

    def set_units(self, units: str) -> None:
        """Show lengths in these units, in all windows and from now on."""
        self._units_now = None
        for window in self.windows:
            window.document.set_units(units)
        self.change(lambda settings: replace(settings, units=units))

    def keep_shop(self, word: str, shop: Shop) -> None:
        """Plan for this shop, in all windows and from now on."""
        self.shop = shop
        for window in self.windows:
            window.document.set_shop(word, shop)
        self.change(lambda settings: replace(settings, shop=word))

    def change(self, change: Callable[[Settings], Settings]) -> None:
        """Make a change to the settings and keep it; a failure is told, the app goes on."""
        try:
            self.settings = change_settings(self.places.settings, change)
        except FileError as error:
            self.settings = change(self.settings)
            for window in self.windows[:1]:
                text = f"The settings are not kept: {error}"
                window.notices.show_notice(Notice("settings", text, grave=True))
        for window in self.windows:
            window.refresh()

    def note_start(self) -> None:
        """The app was started once: the example has been seen."""
        self.change(lambda settings: replace(settings, started=True))

    def remember(self, path: Path) -> None:
        """A stack was opened or saved here."""
        folder = str(path.absolute().parent)
        self.change(
            lambda settings: replace(
                settings.with_folder("stack", folder), recent=with_recent(settings.recent, path)
            )
        )

    def forget_recent(self, path: Path) -> None:
        """Take a file off the list of recent ones."""
        self.change(lambda settings: replace(settings, recent=without(settings.recent, path)))

    def remember_folder(self, kind: str, path: Path) -> None:
        """A file of this kind was read or written here."""
        folder = str(path.absolute().parent)
        self.change(lambda settings: settings.with_folder(kind, folder))

    def folder(self, kind: str) -> str:
        """The folder in which a file of this kind is looked for first."""
        return self.settings.folder(kind)

    def layout(self) -> QSettings:
        """Where the windows' size and the panels' places are kept."""
        return QSettings(str(self.places.layout), QSettings.Format.IniFormat)
