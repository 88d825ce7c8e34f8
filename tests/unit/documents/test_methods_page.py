"""The ratios and errors on docs/methods.md and docs/test-cuts.md are those of today."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from profilestack.files.stack_file import read_stack
from profilestack.jobs.methods import methods_for
from profilestack.jobs.opening import find_bits
from profilestack.planning.spreading import try_cuts
from profilestack.planning.usual_errors import ON_A_CNC
from tests.unit.documents.pages import ROOT
from tests.unit.planning.shipped import CROWN, EXAMPLES

METHODS = (ROOT / "docs" / "methods.md").read_text(encoding="utf-8")
TEST_CUTS = (ROOT / "docs" / "test-cuts.md").read_text(encoding="utf-8")

ROWS = re.findall(r"^\| ([a-z-]+/[a-z-]+) \| (\d+) \| (.+) \|$", METHODS, re.MULTILINE)


def test_the_page_has_its_rows() -> None:
    assert [name for name, _, _ in ROWS] == ["ogee/small", "cornice/crown", "casing/adapted"]


@pytest.mark.parametrize(("name", "pieces", "told"), ROWS)
def test_the_ratios_are_those_of_today(name: str, pieces: str, told: str) -> None:
    stack = read_stack(EXAMPLES / f"{name}.stack.toml")
    assert stack.run.pieces == int(pieces)
    ratios = methods_for(stack, find_bits(stack)[0]).ratios
    assert ratios is not None
    now = (ratios.batch, ratios.one, ratios.cutting, ratios.finishing, ratios.fine)
    assert [f"{ratio:.1f}" for ratio in now] == told.split(" | ")


def test_the_crowns_overcut_is_that_of_today() -> None:
    text = " ".join(TEST_CUTS.split())
    told = re.search(
        r"crown's overcut comes to (\S+) mm in half the cuts and (\S+) in 95 of 100, with them to "
        r"(\S+) and (\S+)\. ", text,
    )  # fmt: skip
    assert told is not None
    stack = read_stack(CROWN)
    bits = find_bits(stack)[0]
    now = []
    for errors in (replace(ON_A_CNC, blank=0.0, wedge=0.0), ON_A_CNC):
        trials = try_cuts(stack, bits, 1000, 1, errors)
        now += np.percentile(trials.overcut_worst, (50.0, 95.0)).tolist()
    assert [float(number) for number in told.groups()] == pytest.approx(now, abs=0.02)


def test_the_table_of_errors_is_that_of_the_code() -> None:
    for figure in (ON_A_CNC.touch_off, ON_A_CNC.edge_zero, ON_A_CNC.single_cut, ON_A_CNC.blank):
        assert f"| {figure:g} mm |" in TEST_CUTS
    assert f"{ON_A_CNC.bit_mean:g} +- {ON_A_CNC.bit_spread:g} mm" in TEST_CUTS
    assert f"| {ON_A_CNC.wedge:g} degrees |" in TEST_CUTS
