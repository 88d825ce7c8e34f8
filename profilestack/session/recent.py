"""The files that were open last, and how a menu names them."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from profilestack.session.file_state import is_same_file

MOST = 10


def with_recent(recent: Sequence[str], path: Path) -> tuple[str, ...]:
    """The list with this file in front; a file stands in it once."""
    rest = [name for name in recent if not is_same_file(Path(name), path)]
    return (os.path.abspath(path), *rest)[:MOST]


def without(recent: Sequence[str], path: Path) -> tuple[str, ...]:
    """The list without this file."""
    return tuple(name for name in recent if not is_same_file(Path(name), path))


def menu_names(recent: Sequence[str]) -> tuple[str, ...]:
    """A name for each: the file's own, with its folder where two are called the same."""
    counts = Counter(Path(name).name for name in recent)
    return tuple(
        path.name if counts[path.name] == 1 else f"{path.name} in {path.parent}"
        for path in map(Path, recent)
    )
