"""The panel "Ways to cut it"."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QLabel, QProgressBar, QPushButton, QScrollArea, QVBoxLayout, QWidget

from profilestack.desktop.background import Background
from profilestack.desktop.document import Document
from profilestack.desktop.find.told import Told
from profilestack.desktop.find.ways import Ways
from profilestack.desktop.find.wishes_form import WishesForm
from profilestack.desktop.labelled import Trouble
from profilestack.errors import InputError, ProfilestackError
from profilestack.jobs.find import (
    FindResult,
    FindWishes,
    drawn_before,
    find,
    report_of,
    request_for,
    stack_of,
)
from profilestack.jobs.find_words import no_way, way_name, way_takes
from profilestack.progress import Progress
from profilestack.stack import Stack

PATIENCE = 2000
"""So long nothing is shown but the button's state [ms]."""

FIND, LOOKING, STOP = "Find ways to cut it", "Looking\N{HORIZONTAL ELLIPSIS}", "Cancel"
STALE = "The wanted profile, the blank or the run has changed since: look again."


class FindPanel(QWidget):
    """Asks the finder for ways to cut the wanted profile; shows, previews and takes them."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.background = Background(self)
        self.result: FindResult | None = None
        self._asked = document.session.settled
        self._previewed: int | None = None
        self._shown: tuple[int, Stack, Stack] | None = None
        self.setAccessibleName("Ways to cut it")
        self.form = WishesForm(document)
        self.button = QPushButton(FIND)
        self.bar, self.doing = QProgressBar(), QLabel()
        self.trouble = Trouble()
        self.message = QLabel()
        self.ways, self.told = Ways(), Told()
        self._late = QTimer(self)
        self._late.setSingleShot(True)
        self._late.setInterval(PATIENCE)
        self._lay_out()
        self._late.timeout.connect(self._show_progress)
        self.button.clicked.connect(self._pressed)
        self.background.progress.connect(self._heard)
        self.background.done.connect(self._found)
        self.background.failed.connect(self._failed)
        self.background.stopped.connect(lambda: self._say("Cancelled before anything was found."))
        self.background.ended.connect(self._ended)
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
        self.button.setText(LOOKING)
        self._late.start()
        self.background.run(_find, (self._asked, wishes))

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

    def _lay_out(self) -> None:
        self.bar.setRange(0, 100)
        self.bar.setAccessibleName("How much is done")
        self.doing.setAccessibleName("What is being done")
        for label in (self.doing, self.message):
            label.setWordWrap(True)
        inside = QWidget()
        box = QVBoxLayout(inside)
        for widget in (
            self.form, self.button, self.bar, self.doing, self.trouble, self.message,
            self.ways, self.told,
        ):  # fmt: skip
            box.addWidget(widget)
        box.addStretch()
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        scroll.setWidget(inside)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scroll)
        self.bar.hide()
        self.doing.hide()

    def _pressed(self) -> None:
        if not self.background.is_busy:
            self.start()
        elif self.button.text() == STOP:
            self.cancel()

    def _show_progress(self) -> None:
        self.button.setText(STOP)
        self.button.setToolTip("Stop looking and show the best so far (Escape)")
        self.bar.show()
        self.doing.show()

    def _heard(self, share: float, words: str) -> None:
        self.bar.setValue(round(100.0 * share))
        self.doing.setText(words[:1].upper() + words[1:])

    def _ended(self) -> None:
        self._late.stop()
        self.bar.hide()
        self.doing.hide()
        self.bar.setValue(0)
        self.doing.setText("")
        self.button.setText(FIND)
        self._refresh()

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
        if place is None or self.result is None:
            self.document.abandon()
        else:
            self.document.preview(self._stack(place), report_of(self.result.options[place]))

    def _refresh(self) -> None:
        has_target = self.document.session.settled.target is not None
        self.button.setEnabled(has_target or self.background.is_busy)
        if not self.background.is_busy:
            why = "Look for bits and passes that make the wanted profile"
            self.button.setToolTip(why if has_target else "Draw the wanted profile first")
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


def _find(asked: tuple[Stack, FindWishes], progress: Progress) -> FindResult:
    return find(request_for(*asked), progress)
