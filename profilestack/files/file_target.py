"""Targets that a stack takes from another file: which names are followed, and what is read."""

from __future__ import annotations

import os
import re
from dataclasses import replace
from functools import lru_cache
from pathlib import PurePosixPath

from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.targets import READERS, ReadingWishes
from profilestack.files.targets.isolation import file_bytes, read_bytes
from profilestack.geometry.path import Path
from profilestack.stack import FileTarget
from profilestack.targets.bulges import tidied
from profilestack.targets.fitting import FitWishes, fit
from profilestack.targets.joining import joined
from profilestack.targets.profile_layer import profile_among
from profilestack.targets.seating import walked

LONGEST_NAME = 255

DIGITS = 9
"""Decimals of a mm that the points of a path from a file are given with."""


def name_problem(name: str) -> Problem | None:
    """Why a file that a stack names is not followed, or None.

    Only names from the stack's own folder on are: ``../`` may lead to a folder beside it, but no
    name starts at the root, at a drive, at another machine or at somebody's home. So a stack that
    comes from elsewhere reaches no place that its own folder does not already lie in.
    """
    expected = "a name from the stack's folder on, such as drawings/crown.dxf, with /"
    if not name or len(name) > LONGEST_NAME or not name.isprintable():
        return Problem("file", "is no file name", expected)
    if name.startswith(("/", "\\", "~")) or re.match(r"[A-Za-z]:", name):
        return Problem("file", f"{name!r} does not start at the stack's folder", expected)
    if "\\" in name:
        return Problem("file", f"{name!r} holds a backslash", expected)
    ending = PurePosixPath(name).suffix.lower()
    if ending not in READERS:
        told = f"{name!r} is of no kind that is read"
        return Problem("file", told, ", ".join(READERS), nearest_word(ending, READERS))
    return None


def traced_path(folder: str, name: str) -> Path:
    """The path of a file, in the file's own place [mm]: few lines and arcs, wood at the right.

    An open one is walked left to right, a closed one clockwise.

    Raises:
        FileError: it is not there or cannot be read.
        InputError: what is wrong with it.
    """
    path = os.path.join(folder, *name.split("/"))
    return _fitted(path, file_bytes(path))


@lru_cache(maxsize=8)
def _fitted(path: str, data: bytes) -> Path:
    """A file that has not changed is not fitted twice: saving a stack reads it again."""
    tracing = read_bytes(path, data, ReadingWishes())
    chain = profile_among(tracing.chains, joined).chain
    return tidied(walked(fit(chain, FitWishes(tracing.tolerance)).path, "below"), DIGITS)


def moved_to(target: FileTarget, folder: str) -> FileTarget:
    """The target as a stack in another folder names it.

    Raises:
        InputError: no name leads from there to the file.
    """
    folder = os.path.abspath(folder)
    if folder == target.folder:
        return target
    there = os.path.join(target.folder, *target.file.split("/"))
    try:
        name = os.path.relpath(there, folder).replace(os.sep, "/")
    except ValueError:  # another drive
        name = there
    if problem := name_problem(name):
        hint = "copy the drawing beside the stack"
        raise InputError(replace(problem, where="target.file", hint=hint))
    return replace(target, file=name, folder=folder)
