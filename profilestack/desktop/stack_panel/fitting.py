"""How wide the columns of the table of passes are: what can wait gives way in a narrow panel."""

from __future__ import annotations

from collections.abc import Mapping

from profilestack.desktop.stack_panel.cells import Column


def fitted(room: int, wanted: Mapping[Column, int], least_bit: int, sign: int) -> dict[Column, int]:
    """Widths of the columns that are shown; their sum is at most ``room`` where that can be.

    ``wanted``: room for a column's head and cells. The notes give way first, then the setups (they
    are said under the bits too), then the bits' second lines down to ``least_bit``, then the word
    below a caution's sign, down to ``sign``. Room that is left goes to the last column of words.
    """
    widths = dict(wanted)
    for waiting in (Column.NOTE, Column.SETUP):
        if sum(widths.values()) > room:
            del widths[waiting]
    last = Column.NOTE if Column.NOTE in widths else Column.BIT
    spare = room - sum(widths.values())
    if spare >= 0:
        widths[last] += spare
        return widths
    for column, least in ((Column.BIT, least_bit), (Column.CAUTION, sign)):
        given = min(widths[column] - least, -spare)
        if given > 0:
            widths[column] -= given
            spare += given
    return widths
