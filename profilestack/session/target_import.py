"""A wanted profile from another file, in the words of the screen: what is asked, what was found."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath

from profilestack.errors import InputError, Problem
from profilestack.jobs.target import TargetReport
from profilestack.stack import Rectangle, Stack
from profilestack.targets.tracing import Chain
from profilestack.units import format_length

PICTURES = (".png", ".jpg", ".jpeg", ".bmp", ".tif", ".tiff")
TABLES = (".csv", ".txt", ".tsv", ".xyz")
"""How the names of pictures and of tables of points end."""

MOST_SHOWN = 60
"""Of a drawing that falls into more lines than this the longest are shown."""

UNITS_ASKED = 'choose mm or inches under "Its numbers are"'

SAID = (
    ("say which: --units-of-file mm or in", UNITS_ASKED),
    ("or say so: --units-of-file mm or in", UNITS_ASKED),
    ("say what its numbers are: --units-of-file mm or in, or --dpi 96", UNITS_ASKED),
    (" ($INSUNITS is absent or 0)", ""),
    ("no physical size", "no size in mm or inches"),
    ("tones parted at", "wood and background part at tone"),
    ("say which: --columns 1,3 or --columns NAME,NAME", 'name both under "Columns", as 1,3 or x,z'),
    ("the scale of the picture", ""),
    (
        "say --dpi, --across (the outline's width), or --points with --distance",
        'give dots per inch, or choose the width of the outline or two points under "Scale by"',
    ),
    ("for another line say --layer or --pick", "for another line give its layer or its number"),
    ("or say --threshold", "or give the tone between wood and background"),
    ("another --threshold", "another tone"),
    ("--smooth", "blur"),
    ('"longest" or 1 to', "1 to"),
    ("names no chain", "is none of its lines"),
    ("chain is left out", "line is left out"),
    ("chains are left out", "lines are left out"),
    ("say --trace edge", "follow the edge of what is dark instead"),
    ("say --order x or --order nearest", "order them by x or by the nearest"),
    ("or --order x", "or order them by x"),
    ("--tolerance", "tolerance"),
    ("--gap", "gap"),
    ("--layer", "layer"),
    ("--pick", "number of the outline"),
)
"""What hints that name options of the command line say on the screen; long ones first."""


def kind_of_file(path: FilePath) -> str:
    """What is asked about a file: that of a "picture", a "table" of points or a "drawing"."""
    ending = path.suffix.lower()
    if ending in PICTURES:
        return "picture"
    return "table" if ending in TABLES else "drawing"


def on_screen(text: str) -> str:
    """A hint in the words of the screen."""
    for option, words in SAID:
        text = text.replace(option, words)
    return text


def problems_on_screen(error: InputError) -> tuple[Problem, ...]:
    """An error's problems, their hints in the words of the screen, without the file's name."""
    return tuple(
        replace(
            p,
            text=on_screen(p.text),
            expected=on_screen(p.expected),
            hint=on_screen(p.hint),
            file="",
        )
        for p in error.problems
    )


def summary(report: TargetReport, units: str) -> str:
    """What was read, and how well lines and arcs follow it."""
    worst = format_length(report.deviation.largest, units, 0.001 if units == "mm" else 0.0001)
    allowed = format_length(report.tolerance, units, 0.001 if units == "mm" else 0.0001)
    stock = report.stack.blank.stock
    size = ""
    if isinstance(stock, Rectangle):
        step = 0.01 if units == "mm" else 0.001
        sides = (format_length(side, units, step) for side in (stock.width, stock.thickness))
        size = f" In a blank of {' by '.join(sides)}."
    keeps = "within" if report.is_good else "beyond"
    return (
        f"{report.before} pieces read, {report.after} lines and arcs fitted. "
        f"Largest deviation {worst}, {keeps} the tolerance of {allowed}.{size}"
    )


def chain_name(chain: Chain) -> str:
    """Where a line of a drawing comes from: its layer or group."""
    return chain.label.removeprefix("layer ")


def chain_size(chain: Chain, units: str) -> str:
    """How long a line of a drawing is, no finer than tells it from others."""
    fine, coarse = (0.1, 1.0) if units == "mm" else (0.01, 0.1)
    return format_length(chain.length, units, coarse if chain.length >= 1000.0 else fine)


def chain_words(chain: Chain, number: int, units: str) -> str:
    """A line of a drawing in full words."""
    parts = (chain_name(chain), chain_size(chain, units), "closed" if chain.is_closed else "open")
    return f"{number}: {', '.join(part for part in parts if part)}"


def with_imported(stack: Stack, report: TargetReport) -> Stack:
    """The document with the profile that was read, and the blank that was made for it."""
    blank = replace(report.stack.blank, species=stack.blank.species)
    return replace(stack, target=report.stack.target, blank=blank)


def laid_on(stack: Stack) -> tuple[float, float] | None:
    """Width and thickness of a document's board [mm]; None where it is no plain board."""
    stock = stack.blank.stock
    return (stock.width, stock.thickness) if isinstance(stock, Rectangle) else None
