"""Files dropped on the window: stacks are opened, drawings become the wanted profile."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QMimeData

from profilestack.desktop.file_actions import ENDING
from profilestack.desktop.notices import Notice
from profilestack.files.targets import READERS

if TYPE_CHECKING:
    from profilestack.desktop.window import Window


def dropped_files(data: QMimeData) -> tuple[Path, ...]:
    """The files of this machine that are carried."""
    if not data.hasUrls():
        return ()
    return tuple(Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile())


def take_files(window: Window, paths: tuple[Path, ...]) -> None:
    """Open stacks; read the first drawing; say what cannot be taken."""
    strange = []
    drawings = []
    for path in paths:
        if path.name.lower().endswith(ENDING):
            window.desk.open(path, window)
        elif path.suffix.lower() in READERS:
            drawings.append(path)
        else:
            strange.append(path)
    if drawings:
        window.import_drawing(drawings[0])
    if strange or len(drawings) > 1:
        told = [f"{path.name}: is of no kind that is read" for path in strange]
        told += [f"{path.name}: one drawing at a time" for path in drawings[1:]]
        text = f"What can be dropped here: {ENDING}, {', '.join(READERS)}."
        window.notices.show_notice(Notice("dropping", text, tuple(told)))
