"""``profilestack app``: the desktop app."""

from __future__ import annotations

import argparse
from pathlib import Path

from profilestack.cli import options
from profilestack.errors import ProfilestackError

HELP = "open the desktop app"
ABOUT = (
    "Opens the desktop app with the given stacks; without any, with a finished example at the "
    "first start and with the stack that was open last afterwards. A drawing (DXF, SVG), a table "
    "of points or a picture becomes the wanted profile of a new board. "
    "What it saves is what the other commands read."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    parser.add_argument(
        "stacks", metavar="STACK", type=Path, nargs="*", help="stacks or drawings to open"
    )
    options.add_bits(
        parser, "a NAME.bits.toml file to have at hand; @small-shop and @all name the shipped "
        "ones; may be given again",
    )  # fmt: skip
    options.add_units(parser, "those chosen last, else each document's own")
    parser.add_argument(
        "--theme", choices=("light", "dark"), help="for this time, instead of the one chosen"
    )


def run(call: argparse.Namespace) -> int:
    """Show the app until its last window is closed; returns the exit code."""
    try:
        from profilestack.desktop.main import run as show
    except ImportError as error:
        # a machine without a screen often lacks what Qt draws with; anything else is a fault
        if not (error.name or "").startswith(("PySide6", "shiboken6")):
            raise
        raise ProfilestackError(f"the app cannot be shown: {error}") from error
    return show(call.stacks, call.theme, call.bits, call.units)
