"""The command line: reads the call, does one job, ends with the right code.

0 done; 1 done, but a tolerance is broken or a caution says stop; 2 the input or the call is wrong;
130 cancelled with nothing to show.
"""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections.abc import Collection, Iterable, Sequence
from typing import NoReturn

from profilestack import __version__
from profilestack.cli.commands import COMMANDS
from profilestack.errors import Cancelled, InputError, ProfilestackError, nearest_word
from profilestack.reports.layout import plain

DONE, BROKEN, WRONG, CANCELLED = 0, 1, 2, 130

_ABOUT = "Which router bits, at which offsets and depths, make a wanted molding profile."

_SAFETY = (
    "Bits spin fast and wood kicks back: the marks on your bits, your machine's manual, local "
    "rules and a qualified operator come first. Try every stack in scrap."
)


class _Parser(argparse.ArgumentParser):
    """Tells a mistyped command by the nearest one there is."""

    def error(self, message: str) -> NoReturn:
        words = message.split("'")
        if "invalid choice" in message and message.startswith("argument COMMAND"):
            raise _CallError(_with_hint(f"{words[1]!r} is no command", words[1], COMMANDS))
        raise _CallError(f"{message}\n{self.format_usage().strip()}")


class _CallError(ProfilestackError):
    """The call itself is wrong."""


def _with_hint(text: str, word: str, known: Collection[str]) -> str:
    hint = nearest_word(word, known)
    return f"{text}; {hint or 'known are ' + ', '.join(known)}"


def make_parser() -> argparse.ArgumentParser:
    """The whole command line, from the table of commands."""
    parser = _Parser(prog="profilestack", description=_ABOUT, epilog=_SAFETY, allow_abbrev=False)
    parser.add_argument("--version", action="version", version=f"profilestack {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, command in COMMANDS.items():
        single = commands.add_parser(
            name, help=command.HELP, description=command.ABOUT, epilog=_SAFETY, allow_abbrev=False
        )
        command.add_arguments(single)
        single.set_defaults(usage=single.format_usage())
    return parser


def _read_call(arguments: Sequence[str] | None) -> argparse.Namespace:
    call, rest = make_parser().parse_known_args(arguments)
    if not rest:
        return call
    word = rest[0]
    if not word.startswith("-"):
        raise _CallError(f"{word!r} is one too many\n{call.usage.strip()}")
    known = re.findall(r"(?<!\w)--?\w[\w-]*", call.usage)
    text = f"{word!r} is no option of profilestack {call.command}"
    raise _CallError(_with_hint(text, word.partition("=")[0], known))


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code."""
    _let_everything_be_printed()
    # many small products of matrices: threads of the linear algebra would only be in the way.
    # It looks once, when it is loaded, which is not before a command runs
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    try:
        call = _read_call(arguments)
        return COMMANDS[call.command].run(call)
    except InputError as error:
        return _refuse(map(str, error.problems))
    except (Cancelled, KeyboardInterrupt):
        print("profilestack: cancelled", file=sys.stderr)
        return CANCELLED
    except ProfilestackError as error:
        return _refuse([str(error)])


def _refuse(messages: Iterable[str]) -> int:
    """Tell what is wrong; a name from a file must not steer the terminal."""
    for message in messages:
        first, *rest = message.split("\n")
        print("\n".join([f"profilestack: {plain(first)}", *rest]), file=sys.stderr)
    return WRONG


def _let_everything_be_printed() -> None:
    """A letter that the terminal's encoding lacks is shown as "?", not as a fault."""
    for stream in (sys.stdout, sys.stderr):
        if (reconfigure := getattr(stream, "reconfigure", None)) is not None:
            reconfigure(errors="replace")
