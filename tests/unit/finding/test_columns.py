"""Reductions of a table keep its cheapest covers."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from profilestack.finding.columns import (
    distinct,
    undominated,
    undominated_tools,
)
from tests.exhaustive import fewest_columns


@st.composite
def tables(draw: st.DrawFn) -> tuple[np.ndarray, np.ndarray]:
    """Sets by points, each point in some set, and the tool of each set, rising."""
    sets, points = draw(st.integers(1, 14)), draw(st.integers(1, 12))
    rows = draw(
        st.lists(
            st.lists(st.booleans(), min_size=points, max_size=points),
            min_size=sets, max_size=sets,
        )
    )  # fmt: skip
    table = np.array(rows, dtype=bool)
    table[0] |= ~table.any(axis=0)
    tools = np.sort(np.array(draw(st.lists(st.integers(0, 3), min_size=sets, max_size=sets))))
    return table, tools.astype(np.intp)


def fewest_tools(rows: np.ndarray, tools: np.ndarray) -> int:
    """The fewest tools whose sets cover all points together."""
    reached = np.array([rows[tools == tool].any(axis=0) for tool in np.unique(tools)])
    fewest = fewest_columns(reached, len(reached))
    assert fewest is not None
    return fewest


@given(tables())
@settings(deadline=None)
def test_undominated_columns_keep_the_fewest(given_table: tuple[np.ndarray, np.ndarray]) -> None:
    rows, tools = given_table
    most = len(rows)
    kept = undominated(rows, np.zeros_like(tools))
    assert fewest_columns(rows[kept], most) == fewest_columns(rows, most)
    within = undominated(rows, tools)
    for tool in np.unique(tools):
        assert (rows[within][tools[within] == tool].any(axis=0) == rows[tools == tool].any(axis=0)
                ).all()  # fmt: skip
    for k in kept:
        assert not any(
            (rows[k] <= rows[j]).all() and (rows[k] != rows[j]).any() for j in range(len(rows))
        )


@given(tables())
@settings(deadline=None)
def test_undominated_tools_keep_the_fewest_tools_and_columns(
    given_table: tuple[np.ndarray, np.ndarray],
) -> None:
    rows, tools = given_table
    kept = undominated_tools(rows, tools)
    assert fewest_tools(rows[kept], tools[kept]) == fewest_tools(rows, tools)
    assert fewest_columns(rows[kept], len(rows)) == fewest_columns(rows, len(rows))


@given(tables())
@settings(deadline=None)
def test_distinct_columns_are_all_that_differ(given_table: tuple[np.ndarray, np.ndarray]) -> None:
    rows, tools = given_table
    kept = distinct(rows, tools)
    wanted = {(tool, *row) for tool, row in zip(tools.tolist(), rows.tolist(), strict=True)
              if any(row)}  # fmt: skip
    found = [(tool, *row) for tool, row in zip(tools[kept].tolist(), rows[kept].tolist(),
                                               strict=True)]  # fmt: skip
    assert len(found) == len(set(found))
    assert set(found) == wanted


@pytest.mark.parametrize(
    ("rows", "fewest"),
    [
        ([[1, 1, 0, 0], [0, 0, 1, 1], [0, 1, 1, 0]], 2),
        ([[1, 0, 0], [0, 1, 0], [0, 0, 1]], 3),
        ([[1, 1, 1, 0, 0, 0], [0, 0, 0, 1, 1, 1], [1, 1, 0, 1, 1, 0], [0, 0, 1, 0, 0, 1]], 2),
        ([[1, 0], [1, 0]], None),
    ],
)
def test_looking_at_everything_is_right_by_hand(rows: list[list[int]], fewest: int | None) -> None:
    assert fewest_columns(np.array(rows, dtype=bool), 5) == fewest
