"""The cover problem as a table: which column (candidate) reaches which row (point)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from profilestack.finding.coverage import Coverage

Indices = npt.NDArray[np.intp]
Booleans = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """All candidates of all bits and setups.

    ``packed`` (n, points / 8) tells which points each column reaches; ``tools`` (n,) which tool it
    is of: a bit in a setup. ``bits`` and ``setups`` tell the bit and the setup of each tool.
    """

    coverages: tuple[Coverage, ...]
    packed: npt.NDArray[np.uint8]
    tools: Indices
    firsts: Indices
    bits: Indices
    setups: Indices
    count: int

    @property
    def reached(self) -> Booleans:
        """Which points some column reaches, shape (points,)."""
        if len(self.packed) == 0:
            return np.zeros(self.count, dtype=bool)
        return np.unpackbits(np.bitwise_or.reduce(self.packed, axis=0), count=self.count).view(bool)

    def rows(self, points: Indices) -> Booleans:
        """Columns by the given points only, shape (n, points)."""
        bytes_, bits = points // 8, 7 - points % 8
        return ((self.packed[:, bytes_] >> bits.astype(np.uint8)) & 1).astype(bool)

    def full(self, columns: Indices) -> Booleans:
        """The given columns by all points."""
        return np.unpackbits(self.packed[columns], axis=1, count=self.count).view(bool)


def only(table: Table, tools: Indices) -> Table:
    """The table of some of the tools alone, with all points that were asked for so far."""
    ends = np.append(table.firsts[1:], len(table.packed))
    parts = [
        Coverage(table.coverages[tool].candidates, table.packed[table.firsts[tool] : ends[tool]])
        for tool in tools.tolist()
    ]
    bits, setups = table.bits[tools].tolist(), table.setups[tools].tolist()
    return table_of(parts, bits, setups, table.count)


def table_of(
    coverages: Sequence[Coverage], bits: Sequence[int], setups: Sequence[int], count: int
) -> Table:
    """Put the coverages of all tools into one table; ``count`` is the number of points."""
    width = (count + 7) // 8
    packed = [coverage.rows for coverage in coverages] or [np.zeros((0, width), dtype=np.uint8)]
    sizes = [len(coverage.rows) for coverage in coverages]
    tools = np.repeat(np.arange(len(sizes)), sizes)
    firsts = np.cumsum([0, *sizes])[:-1].astype(np.intp)
    return Table(
        tuple(coverages),
        np.concatenate(packed),
        tools,
        firsts,
        np.array(bits, dtype=np.intp),
        np.array(setups, dtype=np.intp),
        count,
    )


def distinct(rows: Booleans, groups: Indices) -> Indices:
    """The first of each set of columns of one group that reach the same rows; empty ones go."""
    packed = np.packbits(rows, axis=1)
    keyed = np.column_stack((packed, groups.astype(np.uint32).view(np.uint8).reshape(-1, 4)))
    words = -keyed.shape[1] % 8
    keyed = np.ascontiguousarray(np.pad(keyed, ((0, 0), (0, words)))).view(np.uint64)
    order = np.lexsort(keyed.T)
    same = (keyed[order][1:] == keyed[order][:-1]).all(axis=1)
    first = np.sort(order[np.r_[True, ~same]]) if len(order) else order
    return first[rows[first].any(axis=1)]


def undominated(rows: Booleans, groups: Indices) -> Indices:
    """Columns that no other column of their group contains (of equal ones the first)."""
    kept = distinct(rows, groups)
    chosen = []
    for group in np.unique(groups[kept]):
        members = kept[groups[kept] == group]
        chosen.append(members[_maximal(rows[members])])
    return np.sort(np.concatenate(chosen)) if chosen else kept


def _maximal(rows: Booleans) -> Booleans:
    """Which of some different sets lie in no other one."""
    numbers = rows.astype(np.float32)
    sizes = numbers.sum(axis=1)
    common = numbers @ numbers.T
    inside = common >= sizes[:, None] - 0.5
    np.fill_diagonal(inside, False)
    return np.asarray(~inside.any(axis=1))


def undominated_tools(rows: Booleans, tools: Indices) -> Booleans:
    """Which columns stay when tools go whose every column lies in a column of one other tool."""
    names, place = np.unique(tools, return_inverse=True)
    numbers = rows.astype(np.float32)
    sizes = numbers.sum(axis=1)
    starts = np.flatnonzero(np.r_[True, place[1:] != place[:-1]])
    contained = np.zeros((len(rows), len(names)), dtype=bool)
    for begin in range(0, len(rows), 2048):
        inside = (
            numbers[begin : begin + 2048] @ numbers.T >= sizes[begin : begin + 2048, None] - 0.5
        )
        contained[begin : begin + 2048] = np.logical_or.reduceat(inside, starts, axis=1)
    # covered[a, b]: each column of tool a lies in some column of tool b
    covered = np.logical_and.reduceat(contained, starts, axis=0)
    np.fill_diagonal(covered, False)
    alive = np.ones(len(names), dtype=bool)
    for tool in np.argsort(covered.sum(axis=1))[::-1]:
        others = covered[tool] & alive
        if others.any():
            alive[tool] = False
    return alive[place]
