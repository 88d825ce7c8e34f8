"""Which shop plans are made for: the usual one of a kind of machine, or that of a file.

A choice is kept as one word: "" is the usual CNC router, the name of a kind is the usual shop with
such a machine, everything else is the path of a shop file.
"""

from __future__ import annotations

from pathlib import Path

from profilestack.errors import FileError, InputError
from profilestack.jobs.plan import shop_of
from profilestack.planning.figures import CHIP_SOURCE, figures_of, source_of
from profilestack.planning.machine import KINDS
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS, Shop
from profilestack.reports.text_plan import figure_text
from profilestack.units import format_length

USUAL = tuple(KINDS)
"""Kinds of machines whose usual shop can be chosen; the first one is meant by ""."""


LARGEST = 500.0
"""No bit is as large as this [mm]: a range up to it is for all larger ones."""


def shop_chosen(word: str) -> Shop:
    """The shop that a choice means.

    Raises:
        FileError: its file cannot be read.
        InputError: every problem of the file.
    """
    return USUAL_SHOPS[word or USUAL[0]] if is_usual(word) else shop_of(word)


def shop_kept(word: str) -> tuple[Shop, str]:
    """The shop of a choice that was kept, and "" or why the usual one has to stand for it."""
    try:
        return shop_chosen(word), ""
    except (FileError, InputError) as error:
        first = str(error).splitlines()[0]
        return USUAL_SHOP, f"The shop's file cannot be used, usual figures are: {first}"


def is_usual(word: str) -> bool:
    """Whether a choice is no file."""
    return word == "" or word in USUAL_SHOPS


def choice_said(word: str, shop: Shop) -> str:
    """What a choice is called."""
    if is_usual(word):
        return f"Usual figures: {shop.machine.called}"
    name = Path(word).name
    return f"{name}: {shop.name}" if shop.name else name


def figure_rows(shop: Shop, wood: str | None, units: str) -> tuple[tuple[str, str, str], ...]:
    """Every figure of a shop: its words, its value, where it comes from.

    ``wood`` is the species of the blank; one that nobody knows is left out.
    """
    rows = [
        (
            shown.figure.words,
            shop.machine.called if shown.figure.key == "kind" else figure_text(shown, units),
            "your choice" if shown.figure.key == "kind" else shown.source,
        )
        for shown in figures_of(shop)
    ]
    try:
        species = shop.wood(wood)
    except InputError:  # the plan says so
        return tuple(rows)
    rows.append((f"density of {species.word}", f"{species.density:.0f} kg/m3", source_of(species)))
    force = "your shop file" if species.force is not None else "from particle board by density"
    rows.append((f"cutting force in {species.word}", f"{shop.force_in(species):.0f} N/mm2", force))
    for chips in shop.chips:
        if chips.group == species.group:
            words = f"chip of bits up to {format_length(chips.diameter, units)}"
            if chips.diameter >= LARGEST:
                words = "chip of larger bits"
            low, high = (format_length(each, units) for each in (chips.low, chips.high))
            own = chips not in USUAL_SHOP.chips
            rows.append((words, f"{low} to {high}", "your shop file" if own else CHIP_SOURCE))
    return tuple(rows)
