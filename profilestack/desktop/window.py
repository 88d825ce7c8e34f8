"""The window of one document: the section in the middle, panels at both sides, words below."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QEvent, Qt
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtWidgets import QDialog, QMainWindow, QMenu, QTabWidget, QVBoxLayout, QWidget

from profilestack.desktop import asking, file_actions
from profilestack.desktop.actions import make_actions, refresh_actions
from profilestack.desktop.axis import Axis
from profilestack.desktop.background import finish_under
from profilestack.desktop.bench import Bench
from profilestack.desktop.dock_titles import DockTitles
from profilestack.desktop.dock_widths import DockWidths
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.panel import DrawerPanel
from profilestack.desktop.dropping import dropped_files, take_files
from profilestack.desktop.help import BENCH
from profilestack.desktop.keeping import Keeping
from profilestack.desktop.machine.outputs import MachineOutputs
from profilestack.desktop.machine.panel import MachinePanel
from profilestack.desktop.machine.spread_on_strip import SpreadOnStrip
from profilestack.desktop.menus import make_menus
from profilestack.desktop.notices import Notices
from profilestack.desktop.output.outputs import Outputs
from profilestack.desktop.panels import arrange, dock_panels, first_in_order
from profilestack.desktop.section.place_words import PlaceWords
from profilestack.desktop.stack_panel.commands import PassCommands
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.watch import ABOUT as OUTSIDE
from profilestack.desktop.watch import Watch
from profilestack.session.journal import Journal

if TYPE_CHECKING:
    from profilestack.desktop.desk import Desk

SAID_FOR = 8000
"""So long a message stays at the foot [ms]."""


class Window(QMainWindow):
    """One document, seen and edited."""

    document: Document
    desk: Desk
    bench: Bench
    outputs: Outputs
    passes: PassCommands
    recent_menu: QMenu
    machine: MachineOutputs
    spread: SpreadOnStrip
    help: QDialog | None = None

    def __init__(self, document: Document, desk: Desk, journal: Journal) -> None:
        super().__init__()
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAcceptDrops(True)
        self.document, self.desk = document, desk
        document.setParent(self)
        self.is_open = True
        self.axis = Axis(self)
        self.passes = PassCommands(document)
        self.notices = Notices()
        self.bench = Bench(document, self.axis)
        self.bench.setObjectName(BENCH)
        self.setCentralWidget(self._middle())
        self.setTabPosition(Qt.DockWidgetArea.AllDockWidgetAreas, QTabWidget.TabPosition.North)
        self.docks = dock_panels(self, document)
        self.titles, self.widths = DockTitles(self, self.docks), DockWidths(self, self.docks)
        drawer = self.docks["drawer"].widget()
        assert isinstance(drawer, DrawerPanel), "the panel of the bits"
        drawer.place_wanted.connect(self.bench.place_bit)
        self.statusBar().setAccessibleName("Messages")
        self.statusBar().addPermanentWidget(PlaceWords(self.bench))
        machine = self.docks["machine"].widget()
        assert isinstance(machine, MachinePanel), "the panel of the machine"
        self.spread = SpreadOnStrip(machine.spread.work, self.bench.leftover)
        self.outputs = Outputs(self)
        self.machine = MachineOutputs(self)
        self.actions_by_name = make_actions(self)
        self.menus = make_menus(self)
        self.keeping = Keeping(self, journal)
        self.watch = Watch(self)
        document.said.connect(self._say)
        document.file_changed.connect(self.refresh)
        document.chosen_changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        document.bits_kept.connect(self._share_bits)
        document.shop_kept.connect(lambda: desk.keep_shop(document.shop_word, document.shop))
        QGuiApplication.clipboard().dataChanged.connect(self.refresh)
        self._place()
        self.refresh()
        self.bench.setFocus()

    # -- what is shown -------------------------------------------------------------------------

    @property
    def is_untouched(self) -> bool:
        """Whether another document may take its place: nothing in it is anybody's yet."""
        session = self.document.session
        return (
            session.path is None
            and not session.is_modified
            and session.undo_label is None
            and session.redo_label is None
            and self.notices.is_empty
        )

    def refresh(self) -> None:
        """Bring the title and the actions up to date."""
        session = self.document.session
        self.setWindowTitle(f"{session.name}[*]")
        self.setWindowModified(session.is_modified)
        self.setWindowFilePath(str(session.path) if session.path else "")
        refresh_actions(self)

    def show_panel(self, name: str) -> QWidget:
        """Bring a panel to the front; gives what is in it."""
        dock = self.docks[name]
        dock.show()
        dock.raise_()
        return dock.widget()

    def go_to(self, name: str) -> None:
        """Put the focus into a part of the window, and show it if need be."""
        part = self.bench if name == BENCH else self.show_panel(name)
        first_in_order(part).setFocus(Qt.FocusReason.ShortcutFocusReason)

    def come_forward(self) -> None:
        """Put the window before all others."""
        self.setWindowState(self.windowState() & ~Qt.WindowState.WindowMinimized)
        self.raise_()
        self.activateWindow()

    def reset_layout(self) -> None:
        """Put all panels where they were at first."""
        arrange(self, self.docks)
        self.widths.share()
        self.titles.look()

    # -- documents -----------------------------------------------------------------------------

    def save(self) -> bool:
        """Save under the document's own name; whether it is saved now."""
        return file_actions.save(self)

    def save_as(self) -> bool:
        """Ask for a name and save; whether it is saved now."""
        return file_actions.save_as(self)

    def saved(self) -> None:
        """The document was saved: nothing is left to be kept or asked."""
        path = self.document.session.path
        assert path is not None, "it was saved somewhere"
        self.keeping.keep()
        for about in ("saving", OUTSIDE):
            self.notices.dismiss(about)
        self.desk.remember(path)
        self._say(f"Saved: {path}")

    def keep(self) -> None:
        """Write the journal now."""
        self.keeping.keep()

    def import_drawing(self, path: Path) -> None:
        """Make the wanted profile from a drawing, measured points or a picture."""
        panel = self.show_panel("target")
        assert isinstance(panel, TargetPanel), "the panel of the wanted profile"
        panel.import_file(path)

    # -- what Qt tells -------------------------------------------------------------------------

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask what becomes of unsaved work; keep the layout."""
        session = self.document.session
        if session.is_modified:
            self.come_forward()
            answer = asking.what_becomes_of(self, session.name)
            if answer is asking.Answer.CANCEL or (answer is asking.Answer.SAVE and not self.save()):
                event.ignore()
                return
        self.is_open = False
        finish_under(self)
        QGuiApplication.clipboard().dataChanged.disconnect(self.refresh)
        self.watch.stop()
        self.keeping.end()
        layout = self.desk.layout()
        layout.setValue("geometry", self.saveGeometry())
        layout.setValue("panels", self.saveState())
        self.desk.forget(self)
        event.accept()

    def changeEvent(self, event: QEvent) -> None:
        """Coming back from another program, look whether it wrote the file."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow() and self.is_open:
            self.watch.look()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Files can be dropped anywhere."""
        if dropped_files(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open what is dropped."""
        paths = dropped_files(event.mimeData())
        event.acceptProposedAction()
        take_files(self, paths)

    def _share_bits(self) -> None:
        for window in self.desk.windows:
            if window is not self:
                window.document.hear_of_bits()

    def _say(self, text: str) -> None:
        self.statusBar().showMessage(text, SAID_FOR)

    def _middle(self) -> QWidget:
        middle = QWidget()
        box = QVBoxLayout(middle)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.notices)
        box.addWidget(self.bench, 1)
        return middle

    def _place(self) -> None:
        """As large as last time, or as fits the screen; the panels where they were."""
        layout = self.desk.layout()
        geometry, panels = layout.value("geometry"), layout.value("panels")
        if not (isinstance(geometry, QByteArray) and self.restoreGeometry(geometry)):
            room = self.screen().availableSize()
            self.resize(min(1280, room.width()), min(800, room.height()))
        arrange(self, self.docks)
        self.widths.share()
        if isinstance(panels, QByteArray) and self.restoreState(panels):
            self.widths.leave()
        self.titles.look()
