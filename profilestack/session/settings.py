"""The user's settings: one small JSON file. A broken one is set aside, and defaults are used."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from profilestack.errors import FileError
from profilestack.files.saving import DISK, FileLayer, save_bytes
from profilestack.session.setting_aside import set_aside

FORMAT = "profilestack-settings/1"
THEMES = ("system", "light", "dark")
UNITS = ("mm", "in")
MOST_BYTES = 2**20
KINDS = ("stack", "drawing", "output", "library", "shop", "points")
"""The kinds of files that have a last folder each."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What is kept from one start to the next.

    ``units``: lengths are shown in these; None: in each document's own. ``started``: the app was
    started before, so that the example has been seen. ``shop``: how the shop was chosen, see
    :mod:`profilestack.session.shop_choice`; "": the usual one.
    """

    units: str | None = None
    theme: str = "system"
    recent: tuple[str, ...] = ()
    folders: dict[str, str] = field(default_factory=dict)
    started: bool = False
    shop: str = ""

    def folder(self, kind: str) -> str:
        """The folder where a file of this kind was last opened or saved; "" if there is none."""
        return self.folders.get(kind, "")

    def with_folder(self, kind: str, folder: str) -> Settings:
        """The settings with another last folder for a kind of file."""
        return replace(self, folders={**self.folders, kind: folder})


def read_settings(path: Path) -> tuple[Settings, str]:
    """The settings of a file, and a message: "" unless it was broken and had to be set aside."""
    try:
        with open(path, "rb") as file:
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        return Settings(), ""
    except OSError as error:
        return Settings(), f"{path}: cannot be read: {error.strerror}; usual settings are used"
    try:
        return settings_from(data), ""
    except ValueError as error:
        return Settings(), f"{path}: {error}; usual settings are used{set_aside(path)}"


def settings_from(data: bytes) -> Settings:
    """The settings of a file's bytes.

    Raises:
        ValueError: they are no settings; the message says which key is wrong.
    """
    if len(data) > MOST_BYTES:
        raise ValueError("is too large for settings")
    try:
        document = json.loads(data.decode("utf-8"))
    except (ValueError, RecursionError) as error:
        raise ValueError(f"is no JSON: {error}") from None
    if not isinstance(document, dict) or document.pop("format", None) != FORMAT:
        raise ValueError(f"is not of the format {FORMAT}")
    if unknown := sorted(document.keys() - CHECKS.keys()):
        raise ValueError(f"has the unknown key {unknown[0]!r}")
    for key, value in document.items():
        if not CHECKS[key](value):
            raise ValueError(f"{key}: {value!r:.60} is impossible")
    if "recent" in document:
        document["recent"] = tuple(document["recent"])
    return Settings(**document)


def _is_text(value: Any) -> bool:
    return isinstance(value, str) and "\0" not in value and len(value) < 5000


CHECKS: dict[str, Callable[[Any], bool]] = {
    "units": lambda value: value is None or value in UNITS,
    "theme": lambda value: value in THEMES,
    "recent": lambda value: isinstance(value, list) and all(map(_is_text, value)),
    "folders": lambda value: (
        isinstance(value, dict)
        and value.keys() <= set(KINDS)
        and all(map(_is_text, value.values()))
    ),
    "started": lambda value: isinstance(value, bool),
    "shop": _is_text,
}


def write_settings(settings: Settings, path: Path, layer: FileLayer = DISK) -> None:
    """Save the settings, whole or not at all.

    Raises:
        FileError: they could not be saved, and why.
    """
    document = {
        "format": FORMAT, "units": settings.units, "theme": settings.theme,
        "recent": list(settings.recent), "folders": settings.folders, "started": settings.started,
        "shop": settings.shop,
    }  # fmt: skip
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(f"{path.parent}: cannot be made: {error.strerror}") from error
    text = json.dumps(document, indent=2) + "\n"  # ASCII: a file's name may be no UTF-8
    save_bytes(path, text.encode("ascii"), layer, keeps_former=False)


def change_settings(path: Path, change: Callable[[Settings], Settings]) -> Settings:
    """Make a change to the settings as they are in the file now: another app may have written it.

    Raises:
        FileError: they could not be saved.
    """
    before, _ = read_settings(path)
    after = change(before)
    if after != before or not path.exists():
        write_settings(after, path)
    return after
