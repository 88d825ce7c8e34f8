"""The plan's steps as a table for spreadsheets."""

from __future__ import annotations

import csv
import io

import pytest

from profilestack.files.exports.steps_csv import steps_csv
from profilestack.stack import Setup
from tests.plans import in_depths, plan_of, step_of
from tests.shop import core_box, stack_of, straight


def rows_of(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))


def tilted(note: str = "", setup: str = "edge"):
    stack, bits = stack_of(
        (straight(12.7), 25.4, 8.0), (core_box(8.0), 10.0, 3.0, {"setup": setup, "note": note}),
        setups=(Setup(setup, 90.0),),
    )  # fmt: skip
    first, second = (step_of(stack, bits, number) for number in (1, 2))
    return plan_of(stack, bits, [*in_depths(first, 4.0), second])


def test_every_step_is_a_row_under_headers_with_units():
    rows = rows_of(steps_csv(tilted(), "mm"))
    assert [row["step"] for row in rows] == ["1", "2", "3"]
    assert [row["below face [mm]"] for row in rows] == ["4", "8", "3"]
    # the board is 60 x 30; on its edge it stands 60 high
    assert [row["above bed [mm]"] for row in rows] == ["26", "22", "57"]
    assert [row["depth number"] for row in rows] == ["1", "2", "1"]
    assert rows[2]["blank turned by [deg]"] == "90"
    assert rows[0]["feed [mm/min]"] == "2400"
    assert rows[0]["bit"] == "straight 12.7"


def test_in_inches_all_lengths_and_feeds_are():
    rows = rows_of(steps_csv(tilted(), "in"))
    assert rows[0]["edge to bit centre [in]"] == "1"
    assert float(rows[0]["feed [in/min]"]) == pytest.approx(2400.0 / 25.4, abs=0.005)
    assert float(rows[0]["removed area [in2]"]) == pytest.approx(1.0 / 645.16, abs=5e-7)


@pytest.mark.parametrize("note", ["=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", "\t=1"])
def test_no_text_becomes_a_formula(note: str):
    (cell,) = {row["note"] for row in rows_of(steps_csv(tilted(note), "mm"))} - {""}
    assert cell == f"'{note}"


def test_numbers_that_begin_with_a_sign_stay_numbers():
    stack, bits = stack_of((straight(12.7), -1.25, 8.0))
    (row,) = rows_of(steps_csv(plan_of(stack, bits), "mm"))
    assert row["edge to bit centre [mm]"] == "-1.25"


def test_setups_may_be_called_anything():
    name = 'a,"b"\r\n=c'
    rows = rows_of(steps_csv(tilted(setup=name), "mm"))
    assert rows[2]["setup"] == name
    assert len(rows) == 3
