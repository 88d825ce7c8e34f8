"""The menu File: making, opening and saving documents."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from profilestack.desktop import asking
from profilestack.desktop.action_row import ActionRow, StandardKey
from profilestack.desktop.notices import Notice
from profilestack.errors import FileError, InputError

if TYPE_CHECKING:
    from profilestack.desktop.window import Window

ENDING = ".stack.toml"
UNCUT_EXAMPLE = "cornice/crown-target.stack.toml"

_DEVICES = {"con", "prn", "aux", "nul"} | {
    f"{port}{number}" for port in ("com", "lpt") for number in range(10)
}


def open_file(window: Window) -> None:
    """Ask for a stack and open it."""
    paths = asking.files_to_open(window, window.desk.folder("stack"))
    for path in paths:
        window.desk.open(path, window)


def open_drawing(window: Window) -> None:
    """Ask for a drawing, a table of points or a picture, and make the wanted profile of it."""
    path = asking.drawing_to_open(window, window.desk.folder("drawing"))
    if path is not None:
        window.desk.remember_folder("drawing", path)
        window.import_drawing(path)


def save(window: Window) -> bool:
    """Save under the document's own name; whether it is saved now."""
    session = window.document.session
    if session.path is None:
        return save_as(window)
    if session.changed_outside() == "changed":
        window.watch.tell_changed(before_saving=True)
        return False
    return write(window, session.path)


def save_as(window: Window) -> bool:
    """Ask for a name and save; whether it is saved now."""
    session = window.document.session
    folder = str(session.path.parent) if session.path else window.desk.folder("stack")
    path = asking.file_to_save(
        window, folder, session.path.name if session.path else suggested(session.name)
    )
    return path is not None and save_under(window, path)


def save_under(window: Window, path: Path) -> bool:
    """Save under a name that was just chosen, unless that would hit another file unasked."""
    other = window.desk.window_of(path)
    if other is not None and other is not window:
        text = f"Not saved: {path.name} is open in another window. Choose another name."
        window.notices.show_notice(Notice("saving", text, choices=_retries(window), grave=True))
        return False
    named = with_ending(path)
    if named != path and named.exists():
        text = f"Not saved yet: {named.name} is there already."
        choices = (("Replace it", partial(_replace, window, named)), ("Save as…", window.save_as))
        window.notices.show_notice(Notice("saving", text, choices=choices))
        return False
    return write(window, named)


def write(window: Window, path: Path) -> bool:
    """Write the file; where that fails, say why inside the window. Nothing is lost either way."""
    try:
        window.document.save(path)
    except (FileError, InputError) as error:
        lines = tuple(str(error).splitlines())
        text = f"Not saved. {lines[0]}"
        notice = Notice("saving", text, lines[1:], _retries(window), grave=True)
        window.notices.show_notice(notice)
        return False
    window.saved()
    return True


def _replace(window: Window, path: Path) -> None:
    write(window, path)


def _retries(window: Window) -> tuple[tuple[str, Callable[[], object]], ...]:
    return (("Try again", window.save), ("Save as…", window.save_as))


def with_ending(path: Path) -> Path:
    """The name with the ending of a stack's file."""
    name = path.name
    if name.lower().endswith(ENDING):
        return path
    return path.with_name(name.removesuffix(".toml").removesuffix(".stack") + ENDING)


def suggested(title: str) -> str:
    """A file name from a title: what no file may be called is left out."""
    kept = "".join(letter if letter.isalnum() or letter in " -_" else " " for letter in title)
    words = "-".join(kept.lower().split())[:60].strip("-_") or "new-board"
    # some systems take no file of these names, whatever its ending
    return f"{f'{words}-stack' if words in _DEVICES else words}{ENDING}"


def _why_no_save(window: Window) -> str:
    session = window.document.session
    if session.path is not None and not session.is_modified:
        return "nothing has changed since it was saved"
    return ""


FILE = (
    ActionRow(
        "new", "File/open", "&New board", "A new window with a blank board",
        lambda window: window.desk.new(window), StandardKey.New,
    ),
    ActionRow(
        "open", "File/open", "&Open…", "Open a stack from a file", open_file, StandardKey.Open
    ),
    ActionRow(
        "example", "File/open", "Open the &example", "Open the finished example",
        lambda window: window.desk.open_example(window),
    ),
    ActionRow(
        "uncut-example", "File/open", "Open the example &uncut",
        "Open the example as it is before anything is found or cut",
        lambda window: window.desk.open_example(window, UNCUT_EXAMPLE),
    ),
    ActionRow(
        "drawing", "File/import", "&Wanted profile from a drawing…",
        "Make the wanted profile from DXF, SVG, a table of points or a picture", open_drawing,
        keys="Ctrl+Shift+I",
    ),
    ActionRow(
        "save", "File/save", "&Save", "Save the stack; the former version is kept beside it",
        save, StandardKey.Save, why_not=_why_no_save,
    ),
    ActionRow(
        "save_as", "File/save", "Save &as…", "Save the stack under another name",
        save_as, StandardKey.SaveAs, keys="Ctrl+Shift+S",
    ),
    ActionRow(
        "close", "File/end", "&Close the window", "Close this window, asking if not saved",
        lambda window: window.close(), StandardKey.Close,
    ),
    ActionRow(
        "quit", "File/end", "&Quit", "Close all windows, asking where work is not saved",
        lambda window: window.desk.close_all(), StandardKey.Quit, keys="Ctrl+Q",
    ),
)  # fmt: skip
