"""The libraries that come with the package, and the drawer of the shop."""

from __future__ import annotations

import os
from pathlib import Path as FilePath

from profilestack.bits.library import Library
from profilestack.errors import FileError, InputError, Problem, nearest_word
from profilestack.files.library_file import ENDING, read_library

DRAWER_FILE = "drawer.bits.toml"
DRAWER_VARIABLE = "PROFILESTACK_DRAWER"
"""An environment variable that names another place for the drawer."""

SMALL_SHOP = "@small-shop"
ALL = "@all"


def shipped_library_dir() -> FilePath:
    """The folder of the shipped libraries: in the package, or beside it in a source checkout.

    Raises:
        FileError: the installation has lost them.
    """
    return _shipped("bitlibrary")


def shipped_examples_dir() -> FilePath:
    """The folder of the shipped examples.

    Raises:
        FileError: the installation has lost them.
    """
    return _shipped("examples")


def shipped_library_names() -> tuple[str, ...]:
    """What may be given instead of a file: "@all" and one name for each shipped library."""
    return (ALL, *(f"@{path.name.removesuffix(ENDING)}" for path in _shipped_files()))


def library_files(name: str | os.PathLike[str]) -> tuple[FilePath, ...]:
    """The files that a name such as "@small-shop" or "@all" means; anything else is a path.

    "@all" is every shipped library but the small shop's drawer, whose bits are in the others too,
    unless a library of that name is shipped.

    Raises:
        InputError: an unknown name after "@".
    """
    text = os.fspath(name)
    if not text.startswith("@"):
        return (FilePath(text),)
    by_name = {f"@{path.name.removesuffix(ENDING)}": path for path in _shipped_files()}
    if text in by_name:
        return (by_name[text],)
    if text == ALL:
        return tuple(path for shipped, path in by_name.items() if shipped != SMALL_SHOP)
    known = shipped_library_names()
    expected = f"a file, or one of {', '.join(known)}"
    raise InputError(
        Problem("bits", f"no library is called {text!r}", expected, nearest_word(text, known))
    )


def read_bits(name: str | os.PathLike[str]) -> Library:
    """All bits of a library file or of a name such as "@all"; an id's first bit wins.

    Raises:
        FileError: a file is not there or cannot be read.
        InputError: an unknown name, or the problems of a file.
    """
    library = Library(name=os.fspath(name))
    for path in library_files(name):
        library = library.joined(read_library(path))
    return library


def drawer_path() -> FilePath:
    """Where the shop's own drawer lies, whether it is there or not."""
    if named := os.environ.get(DRAWER_VARIABLE):
        return FilePath(named)
    from platformdirs import user_config_path

    return user_config_path("profilestack", appauthor=False) / DRAWER_FILE


def read_drawer() -> Library:
    """The bits that the shop owns; on a new machine those of the shipped small shop.

    Raises:
        FileError: the drawer cannot be read.
        InputError: the problems of its file.
    """
    path = drawer_path()
    return read_library(path) if path.exists() else read_bits(SMALL_SHOP)


def _shipped(folder: str) -> FilePath:
    package = FilePath(__file__).resolve().parents[1]
    for place in (package / folder, package.parent / folder):
        if place.is_dir():
            return place
    raise FileError(f"{package / folder}: is not there; install profilestack again")


def _shipped_files() -> list[FilePath]:
    return sorted(shipped_library_dir().glob(f"*{ENDING}"))
