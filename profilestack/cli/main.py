"""The command line: reads the call, does one job, ends with the right code.

0 done; 1 done, but a tolerance is broken or a caution says stop; 2 the input or the call is wrong;
130 cancelled with nothing to show.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence

from profilestack import __version__
from profilestack.cli.commands import COMMANDS
from profilestack.errors import Cancelled, InputError, ProfilestackError, nearest_word

DONE, BROKEN, WRONG, CANCELLED = 0, 1, 2, 130

_ABOUT = "Which router bits, at which offsets and depths, make a wanted molding profile."

_SAFETY = (
    "Bits spin fast and wood kicks back: the marks on your bits, your machine's manual, local "
    "rules and a qualified operator come first. Try every stack in scrap."
)


class _Parser(argparse.ArgumentParser):
    """Tells a mistyped command by the nearest one there is."""

    def error(self, message: str) -> None:  # type: ignore[override]  # raises, as exit() does
        words = message.split("'")
        hint = nearest_word(words[1], COMMANDS) if "invalid choice" in message else ""
        if hint:
            message = f"{words[1]!r} is no command; {hint}"
        raise _CallError(f"{message}\n  {self.format_usage().strip()}")


class _CallError(ProfilestackError):
    """The call itself is wrong."""


def make_parser() -> argparse.ArgumentParser:
    """The whole command line, from the table of commands."""
    parser = _Parser(prog="profilestack", description=_ABOUT, epilog=_SAFETY)
    parser.add_argument("--version", action="version", version=f"profilestack {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, command in COMMANDS.items():
        single = commands.add_parser(
            name, help=command.HELP, description=command.ABOUT, epilog=_SAFETY
        )
        command.add_arguments(single)
    return parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code."""
    try:
        call = make_parser().parse_args(arguments)
        return COMMANDS[call.command].run(call)
    except InputError as error:
        for problem in error.problems:
            print(f"profilestack: {problem}", file=sys.stderr)
        return WRONG
    except Cancelled:
        print("profilestack: cancelled", file=sys.stderr)
        return CANCELLED
    except ProfilestackError as error:
        print(f"profilestack: {error}", file=sys.stderr)
        return WRONG
    except KeyboardInterrupt:
        return CANCELLED
    except BrokenPipeError:  # the reader of a pipe went away: nothing more to say
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
