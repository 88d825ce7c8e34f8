"""The panel "Ways to cut it"."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QApplication, QLabel, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.find.looking import Looking
from profilestack.desktop.find.told import Told
from profilestack.desktop.find.ways import Ways
from profilestack.desktop.find.wishes_form import WishesForm
from profilestack.desktop.labelled import Trouble
from profilestack.desktop.scrolling import scrolled
from profilestack.errors import InputError, ProfilestackError
from profilestack.jobs.find import FindResult, drawn_before, report_of, stack_of
from profilestack.jobs.find_words import no_way, way_name, way_takes
from profilestack.stack import Stack

STALE = "The wanted profile, the blank or the run has changed since: look again."


class FindPanel(QWidget):
    """Asks the finder for ways to cut the wanted profile; shows, previews and takes them."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.result: FindResult | None = None
        self._asked = document.session.settled
        self._previewed: int | None = None
        self._shown: tuple[int, Stack, Stack] | None = None
        self.setAccessibleName("Ways to cut it")
        self.form = WishesForm(document)
        self.looking = Looking(self)
        self.background = self.looking.background
        self.trouble = Trouble()
        self.message = QLabel()
        self.ways, self.told = Ways(), Told()
        self._lay_out()
        self.looking.wanted.connect(self.start)
        self.background.done.connect(self._found)
        self.background.failed.connect(self._failed)
        self.background.stopped.connect(lambda: self._say("Cancelled before anything was found."))
        self.background.ended.connect(self._refresh)
        self.ways.pointed.connect(self._preview)
        self.ways.taken.connect(self.take)
        document.changed.connect(self._refresh)
        document.units_changed.connect(self._units_changed)
        self._refresh()

    def start(self) -> None:
        """Look for ways with what the form says."""
        wishes = self.form.wishes()
        if wishes is None:
            return
        self._preview(None)
        self._asked = self.document.session.settled
        self.trouble.say("")
        self.looking.start(self._asked, wishes)

    def cancel(self) -> None:
        """Take the best so far."""
        self.background.cancel()

    def take(self, place: int) -> None:
        """Put a way into the stack, as one step that can be undone."""
        if self.result is None or self._is_stale():
            return
        option = self.result.options[place]
        self._preview(place)
        self._previewed = None
        self._watch_keys(False)
        self.document.edit(self._stack(place), f"Take {way_name(place + 1, option)}")
        self.document.said.emit(f"Way {place + 1} is in the stack: {way_takes(option)}")
        self._refresh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape cancels the search, or lets go of what is previewed."""
        if event.key() == Qt.Key.Key_Escape and self.background.is_busy:
            self.cancel()
        elif event.key() == Qt.Key.Key_Escape and self._previewed is not None:
            self._preview(None)
        else:
            super().keyPressEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:
        """A panel that is not seen previews nothing."""
        super().hideEvent(event)
        self._preview(None)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A key meant for another part lets go first: nobody edits what is only previewed."""
        kinds = (QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress)
        if event.type() in kinds and isinstance(watched, QWidget):
            focus = QApplication.focusWidget()
            if focus is None or not self.isAncestorOf(focus):
                self.ways.let_go()
        return False

    def _lay_out(self) -> None:
        self.message.setWordWrap(True)
        self._scroll = scrolled(
            self.form, self.looking, self.trouble, self.message, self.ways, self.told
        )
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._scroll)

    def _found(self, result: FindResult) -> None:
        self.result, self._shown = result, None
        units = self.document.units
        self.ways.show_result(result, units)
        self.told.show_result(result, units)
        count = len(result.options)
        words = no_way(result) if not count else f"{count} way{'s' if count != 1 else ''}."
        if result.stopped:
            words += " Stopped early: the best so far."
        self._say(words)
        self._refresh()

    def _failed(self, error: ProfilestackError) -> None:
        if isinstance(error, InputError):
            left = self.form.refuse(error.problems)
            self.trouble.say("\n".join(map(str, left)))
        else:
            self.trouble.say(str(error))

    def _say(self, words: str) -> None:
        self.message.setText(words)

    def _is_stale(self) -> bool:
        """Whether what the ways were found for is no longer what is wanted."""
        if self.result is None:
            return False
        now, found = self.document.session.settled, self.result.request.stack
        same_target = now.target in (self._asked.target, found.target)
        return not same_target or (now.blank, now.run) != (found.blank, found.run)

    def _stack(self, place: int) -> Stack:
        """The document with a way's passes, made once while the document stays as it is."""
        assert self.result is not None, "there are ways"
        settled = self.document.session.settled
        if self._shown is None or self._shown[:2] != (place, settled):
            way = stack_of(self.result.options[place], self.result.strange, settled)
            self._shown = (place, settled, way)
        return self._shown[2]

    def _preview(self, place: int | None) -> None:
        if place == self._previewed or (place is not None and self._is_stale()):
            return
        self._previewed = place
        self._watch_keys(place is not None)
        self._bring_into_sight(place)
        if place is None or self.result is None:
            self.document.abandon()
        else:
            self.document.preview(self._stack(place), report_of(self.result.options[place]))

    def _bring_into_sight(self, place: int | None) -> None:
        """Scroll to the card that the keys went to; under a pointer nothing may move away."""
        if place is not None and self.ways.cards[place].hasFocus():
            self._scroll.ensureWidgetVisible(self.ways.cards[place], 0, 8)

    def _watch_keys(self, on: bool) -> None:
        app = QApplication.instance()
        assert app is not None, "there is a window"
        app.removeEventFilter(self)
        if on:
            app.installEventFilter(self)

    def _refresh(self) -> None:
        has_target = self.document.session.settled.target is not None
        self.looking.allow(has_target)
        stale = self._is_stale()
        self.ways.allow(not stale)
        if stale and not self.background.is_busy:
            self.trouble.say(STALE)
        elif self.trouble.text().endswith(STALE):
            self.trouble.say("")
        self._tell_document(stale)

    def _tell_document(self, stale: bool) -> None:
        """What is drawn on the section: what stays, and the profile before it was fitted."""
        result = self.result
        if result is None or stale:
            self.document.tell_findings(())
            return
        is_fitted = self.document.stack.target == result.request.stack.target
        self.document.tell_findings(result.unreached, drawn_before(result) if is_fitted else None)

    def _units_changed(self) -> None:
        if self.result is not None:
            self.ways.say(self.result, self.document.units)
            self.told.show_result(self.result, self.document.units)
