"""``profilestack app``: the desktop app."""

from __future__ import annotations

import argparse
from pathlib import Path

HELP = "open the desktop app"
ABOUT = (
    "Opens the desktop app with the given stacks, or with a finished example when there is none. "
    "What it saves is what the other commands read."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    parser.add_argument("stacks", metavar="STACK", type=Path, nargs="*", help="stacks to open")
    parser.add_argument(
        "--theme", choices=("light", "dark"), help="instead of what the system says"
    )


def run(call: argparse.Namespace) -> int:
    """Show the app until its last window is closed; returns the exit code."""
    from profilestack.desktop.main import run as show

    return show(call.stacks, call.theme)
