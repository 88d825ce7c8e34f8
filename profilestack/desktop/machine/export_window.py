"""The window of the exports: a form, a button, and what was written or why nothing was."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.background import Background
from profilestack.desktop.document import Document
from profilestack.desktop.machine.after_rest import task_of
from profilestack.desktop.machine.export_form import EXTRA, ExportForm
from profilestack.desktop.notices import Notice
from profilestack.desktop.output.output_window import OutputWindow
from profilestack.desktop.paragraph import Paragraph
from profilestack.errors import ProfilestackError
from profilestack.jobs.export import Exported, make, save_made
from profilestack.jobs.exports.order import ExportOrder
from profilestack.progress import Progress
from profilestack.reports.export_report import code_said

ABOUT = "export"
NOT_GOOD = (
    "The stack as it is does not make its wanted profile, or must not be cut: its verdict and its "
    "cautions say why."
)
Asking = Callable[[QWidget, str, str, str], Path | None]
"""Parent, title, kinds of files, the end of the suggested name."""


@dataclass(frozen=True, slots=True)
class Wish:
    """An order, and the files that may be replaced: that was asked."""

    order: ExportOrder
    agreed: frozenset[Path] = field(default_factory=frozenset)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What was written, or the files that are there and were not asked about."""

    done: Exported | None
    there: tuple[Path, ...] = ()


class ExportWindow(OutputWindow):
    """Writes one export at a time; nothing is replaced unasked."""

    def __init__(self, document: Document, ask_file: Asking, parent: QWidget) -> None:
        super().__init__("Export", document, parent)
        self.ask_file = ask_file
        self.form = ExportForm(document)
        self.words = Paragraph("What was written")
        self.save = QPushButton("&Save …")
        self._wish: Wish | None = None
        self._writing = Background(self)
        self._writing.done.connect(self._hear)
        self._writing.failed.connect(self._hear_trouble)
        self._writing.ended.connect(self._enable)
        self._build()
        document.changed.connect(self._enable)
        self._enable()

    @property
    def is_busy(self) -> bool:
        """Whether something is being written."""
        return self._writing.is_busy

    def write(self, wish: Wish) -> None:
        """Make it and save it, unless that would replace what was not asked about."""
        self.notices.dismiss(ABOUT)
        self._wish = wish
        self.words.say(f"Writing {wish.order.path.name} …")
        self._writing.run(_written, wish)
        self._enable()

    def _build(self) -> None:
        inner = QVBoxLayout()
        inner.addWidget(self.form)
        inner.addWidget(self.words)
        inner.addStretch()
        inner.addWidget(self.save)
        self.lay_out(inner)
        self.save.clicked.connect(self._save)
        self.form.changed.connect(self._kind_changed)
        metrics = self.fontMetrics()
        self.resize(64 * metrics.averageCharWidth(), 26 * metrics.lineSpacing())

    def _kind_changed(self) -> None:
        self.notices.dismiss(ABOUT)
        self.words.say("")

    def _enable(self) -> None:
        can = self.document.report is not None
        self.save.setEnabled(can and not self.is_busy)
        about = "Choose a name and write the file"
        self.save.setToolTip(
            about if can else f"{about}. Not now: the stack cannot be cut as it is"
        )

    def _save(self) -> None:
        self.form.extra.commit()
        task = task_of(self.document)
        if task is None or self.form.trouble:
            return
        ending = self.form.ending
        kinds = f"{ending[1:].upper()} (*{ending})"
        chosen = self.ask_file(self, "Export as", kinds, ending)
        if chosen is None:
            return
        path = chosen
        if chosen.suffix.lower() != ending:
            path = chosen.with_name(chosen.name + ending)
        # the question for the name asked about that name alone
        self.write(Wish(self.form.order(task, path), frozenset({chosen})))

    def _hear(self, outcome: Outcome) -> None:
        assert self._wish is not None, "something was asked for"
        done, order = outcome.done, self._wish.order
        if done is None:
            self.words.say("")
            names = ", ".join(path.name for path in outcome.there)
            verb = "is" if len(outcome.there) == 1 else "are"
            again = partial(self.write, Wish(order, frozenset(outcome.there)))
            text = f"Nothing is written yet: {names} {verb} there already."
            choices = (("Replace", again),)
            self.notices.show_notice(Notice(ABOUT, text, choices=choices))
            return
        if done.refused:
            self.words.say("")
            text = f"No machine code is written: {done.refused}"
            self.notices.show_notice(Notice(ABOUT, text, grave=True))
            return
        told = [f"{each.path.name}: {each.about}, {each.size:,} bytes." for each in done.files]
        if order.path.suffix.lower() == ".nc":
            told.append(code_said(f"“{EXTRA}”"))
        self.words.say("\n".join(["Written:", *told]))
        self.document.said.emit(f"Written: {', '.join(each.path.name for each in done.files)}")
        if not done.is_good:
            self.notices.show_notice(Notice(ABOUT, NOT_GOOD, grave=True))

    def _hear_trouble(self, error: ProfilestackError) -> None:
        assert self._wish is not None, "something was asked for"
        self.words.say("")
        lines = str(error).splitlines()
        choices = (("Try again", partial(self.write, self._wish)),)
        text = f"Nothing is written. {lines[0]}"
        self.notices.show_notice(Notice(ABOUT, text, tuple(lines[1:]), choices, grave=True))


def _written(wish: Wish, progress: Progress) -> Outcome:
    del progress  # a file is written whole: there is no half of it to be had sooner
    making = make(wish.order)
    there = tuple(
        made.path for made in making.files if made.path.exists() and made.path not in wish.agreed
    )
    return Outcome(None, there) if there else Outcome(save_made(making))
