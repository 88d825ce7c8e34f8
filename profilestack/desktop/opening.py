"""What is told in the window when a file cannot be opened."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from profilestack.desktop.notices import Notice
from profilestack.errors import FileError, InputError
from profilestack.files.documents import former_copy

if TYPE_CHECKING:
    from profilestack.desktop.desk import Desk
    from profilestack.desktop.window import Window


def opening_notice(desk: Desk, window: Window, path: Path, error: FileError | InputError) -> Notice:
    """All problems of a file, with key and line, and the last good copy where there is one."""
    if isinstance(error, InputError):
        count = len(error.problems)
        told = f"{count} things are" if count > 1 else "something is"
        text = f"{path.name} was not opened: {told} wrong in it."
        lines = tuple(str(problem) for problem in error.problems)
    else:
        text, lines = f"{path.name} was not opened.", (str(error),)
    choices = []
    if os.path.exists(former_copy(str(path))):
        choices.append(("Open the last good copy", lambda: desk.open_former(path, window)))
    return Notice(f"opening {path}", text, lines, tuple(choices), grave=True)
