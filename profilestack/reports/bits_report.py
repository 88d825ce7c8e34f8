"""Bits as a person reads them, in 80 columns, and as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import asdict

from profilestack.bits.bit import Bit
from profilestack.jobs.bits import TABLE_HEAD, summaries, table_rows
from profilestack.reports.json_report import json_text
from profilestack.reports.layout import WIDTH, columns, paragraph, plain, shortened
from profilestack.units import format_length

_COLUMNS = ("id", "size", "edge", "shank", "tip to nut", "top rpm", "plunges")
_PLACES = tuple(TABLE_HEAD.index(column) for column in _COLUMNS)
_KIND = TABLE_HEAD.index("kind")

NO_MARK = "-"
"""Stands where a bit's entry has no top speed."""

_CARE = (
    "Sizes are nominal: measure your own bits. The speed marked on a bit comes before the one here."
)


def bits_json(bits: Iterable[Bit]) -> str:
    """The bits as JSON text: lengths in mm, speeds in rpm."""
    answer = {
        "format": "profilestack-bits-list/1",
        "bits": [asdict(summary) for summary in summaries(bits)],
    }
    return json_text(answer)


def bits_text(bits: Iterable[Bit], heading: str, units: str) -> str:
    """A table of the bits, kind by kind; ``units`` are "mm" or "in"."""
    rows = [tuple(plain(cell) for cell in row) for row in table_rows(bits, units)]
    lines = [*paragraph(heading)]
    if rows:
        lines += ["", *_table(rows, units), "", *paragraph(_legend(rows))]
    return "\n".join(lines)


def bit_text(bit: Bit, units: str) -> str:
    """All of one bit."""
    row = dict(zip(TABLE_HEAD, table_rows([bit], units)[0], strict=True))
    told = {
        "kind": row["kind"],
        "size": row["size"],
        "edge": f"{row['edge']} long; {bit.flutes} flute{'s' if bit.flutes != 1 else ''}",
        "shank": row["shank"],
        "overall": f"{row['overall']}, {format_length(bit.grip, units)} of it in the collet",
        "tip to nut": row["tip to nut"],
        "top speed": f"{row['top rpm']} rpm" if bit.max_rpm is not None else "not marked",
        "plunges": row["plunges"],
    }
    if bit.pilot_diameter is not None and bit.pilot_length is not None:
        across = format_length(bit.pilot_diameter, units)
        below = format_length(bit.pilot_length, units)
        told["bearing"] = f"{across} across, {below} below the edge"
    if bit.price is not None:
        told["price"] = f"{bit.price:g}"
    if bit.note:
        told["note"] = bit.note
    lines = [shortened(bit.id if bit.name == bit.id else f"{bit.name} ({bit.id})", WIDTH)]
    for word, value in told.items():
        lines += paragraph(value, f"  {word:<11} ")
    return "\n".join([*lines, "", *paragraph(_CARE)])


def _table(rows: list[tuple[str, ...]], units: str) -> Iterator[str]:
    """Head and rows; an id that is too long for its column stands on a line of its own."""
    cells = [_cells(row, units) for row in rows]
    heads = (
        ("", "", "edge", "shank", "tip to", "top", ""),
        ("id", f"size {units}", units, units, f"nut {units}", "rpm", "plunges"),
    )
    wide = [max(len(row[column]) for row in (*heads, *cells)) for column in range(len(_COLUMNS))]
    room = max(8, WIDTH - sum(wide[1:]) - len(wide) + 1)
    wide[0] = max((len(row[0]) for row in cells if len(row[0]) <= room), default=8)
    widths = [wide[0], wide[1], *(-width for width in wide[2:6]), wide[6]]
    yield from columns(heads, widths)
    for kind in dict.fromkeys(row[_KIND] for row in rows):
        yield f"{kind}:"
        for cell, row in zip(cells, rows, strict=True):
            if row[_KIND] != kind:
                continue
            if len(cell[0]) > wide[0]:
                yield shortened(cell[0], WIDTH)
                cell = ("", *cell[1:])
            yield from columns([cell], widths)
            if measured := _measured(row):
                yield f"{'':<{wide[0]}} {measured}"


def _cells(row: tuple[str, ...], units: str) -> tuple[str, ...]:
    """What stands in the table, without the units that its head tells."""
    wanted = [row[place].partition(" (measured")[0] for place in _PLACES]
    id, size, edge, shank, reach, speed, plunges = (
        cell.replace(f" {units}", "") if place else cell for place, cell in enumerate(wanted)
    )
    if units == "mm":  # decimals below each other; inches are fractions
        edge, shank, reach = (f"{float(length):.2f}" for length in (edge, shank, reach))
    return id, size, edge, shank, reach, NO_MARK if speed == "not marked" else speed, plunges


def _measured(row: tuple[str, ...]) -> str:
    """What a worn bit measures, as "measured 50.5 mm"."""
    _, _, measured = row[_PLACES[1]].partition(" (measured ")
    return f"measured {measured.removesuffix(')')}" if measured else ""


def _legend(rows: list[tuple[str, ...]]) -> str:
    """What the table's words mean."""
    unmarked = any(row[TABLE_HEAD.index("top rpm")] == "not marked" for row in rows)
    mark = f' Where "{NO_MARK}" stands for it, the file tells none.' if unmarked else ""
    return f"R is a radius, tip the flat at the bottom (its diameter). {_CARE}{mark}"


def count_text(number: int) -> str:
    """A number of bits, as said."""
    return f"{number} bit{'' if number == 1 else 's'}"
