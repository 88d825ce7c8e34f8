"""The job of writing a stack for other programs and machines."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.saving import check_can_save, save_bytes
from profilestack.jobs.exports import EXPORTS, ExportKind
from profilestack.jobs.exports.order import ExportOrder, Made, Making
from profilestack.planning.plan import Plan


@dataclass(frozen=True, slots=True)
class WrittenExport:
    """A file that was written: what it holds in a few words, and its length in bytes."""

    path: Path
    about: str
    size: int


@dataclass(frozen=True, slots=True, eq=False)
class Exported:
    """The files that were written, the plan behind them, and why there are none if so.

    ``is_good``: every tolerance holds and no caution says stop.
    """

    files: tuple[WrittenExport, ...]
    is_good: bool
    plan: Plan | None
    refused: str


def kind_of(path: Path) -> ExportKind:
    """What kind of export the name of a file means.

    Raises:
        InputError: none that is known.
    """
    suffix = path.suffix.lower()
    if suffix not in EXPORTS:
        known = ", ".join(EXPORTS)
        text = f"{path.name!r} ends in nothing that can be exported"
        raise InputError(Problem("-o", text, f"one of {known}", nearest_word(suffix, EXPORTS)))
    return EXPORTS[suffix]


def export(order: ExportOrder) -> Exported:
    """Make what was asked for and save it, every file whole or not at all.

    Raises:
        InputError: an ending that is unknown, a file that is there, what cannot be planned or
            what the machine cannot do.
        FileError: a file could not be saved.
    """
    kind = kind_of(order.path)
    if not order.force:  # before the long work
        _refuse_present([order.path])
    making = _maker(kind)(order)
    if not order.force:
        _refuse_present([made.path for made in making.files])
    return save_made(making)


def make(order: ExportOrder) -> Making:
    """Make what was asked for, without saving it.

    Raises:
        InputError: an ending that is unknown, what cannot be planned or the machine cannot do.
    """
    return _maker(kind_of(order.path))(order)


def save_made(making: Making) -> Exported:
    """Save what was made, every file whole or not at all, whatever was there.

    Raises:
        FileError: a file could not be saved.
    """
    for made in making.files:
        check_can_save(made.path)
    files = tuple(_saved(made) for made in making.files)
    return Exported(files, making.is_good, making.plan, making.refused)


def _maker(kind: ExportKind) -> Callable[[ExportOrder], Making]:
    module, _, name = kind.maker.partition(":")
    found: Callable[[ExportOrder], Making] = getattr(
        import_module(f"profilestack.jobs.exports.{module}"), name
    )
    return found


def _refuse_present(paths: list[Path]) -> None:
    present = [str(path) for path in paths if path.exists()]
    if present:
        verb = "is" if len(present) == 1 else "are"
        text = f"{', '.join(present)} {verb} there already, and nothing was written"
        raise InputError(Problem("-o", text, "a new name, or --force to write over it"))


def _saved(made: Made) -> WrittenExport:
    save_bytes(made.path, made.data, keeps_former=False)
    return WrittenExport(made.path, made.about, len(made.data))
