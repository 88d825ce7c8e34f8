"""The commands: one file each, one line each in ``COMMANDS``.

A command's module imports what it works with only when it runs, so that ``--help`` stays fast.
"""

from __future__ import annotations

import argparse
from typing import Protocol

from profilestack.cli.commands import (
    app,
    bits,
    cut,
    demo,
    export,
    find,
    measure,
    methods,
    plan,
    sheet,
    target,
    template,
)


class Command(Protocol):
    """What a command's module offers."""

    HELP: str
    ABOUT: str

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Say which arguments the command takes."""

    def run(self, call: argparse.Namespace) -> int:
        """Do the job; returns the exit code."""


COMMANDS: dict[str, Command] = {
    "demo": demo,
    "cut": cut,
    "target": target,
    "find": find,
    "plan": plan,
    "methods": methods,
    "measure": measure,
    "sheet": sheet,
    "template": template,
    "export": export,
    "bits": bits,
    "app": app,
}
