"""Plan, methods, spread and test cut in the words of the app; taking the planned order."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from profilestack.bits.bit import Bit
from profilestack.files.shipped import shipped_examples_dir
from profilestack.jobs.cut import cut_and_judge
from profilestack.jobs.measure import MeasureWishes, measure_readings
from profilestack.jobs.methods import MethodsReport, methods_for
from profilestack.jobs.opening import open_stack
from profilestack.jobs.plan import plan_for
from profilestack.jobs.spread import spread_of
from profilestack.planning.check_dimensions import check_dimensions
from profilestack.planning.minutes import length_of_travel
from profilestack.planning.plan import Plan
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS
from profilestack.planning.work import break_even
from profilestack.reports.layout import fixed
from profilestack.reports.text_methods import methods_text
from profilestack.reports.text_plan import plan_text
from profilestack.session.measure_words import check_said, measured_rows
from profilestack.session.method_lines import methods_plot, methods_rows, plot_said
from profilestack.session.page_row import PageRow
from profilestack.session.plan_words import plan_rows, plan_summary
from profilestack.session.planned_order import LABEL, in_planned_order, planned_order_said
from profilestack.session.spread_words import spread_rows, spread_summary
from profilestack.stack import Stack
from profilestack.stack.edits import with_changed, without_passes
from tests.shop import core_box, stack_of, straight

CROWN = shipped_examples_dir() / "cornice" / "crown.stack.toml"


@pytest.fixture(scope="module")
def crown() -> tuple[Stack, dict[str, Bit]]:
    opened = open_stack(CROWN)
    return opened.stack, dict(opened.bits)


@pytest.fixture(scope="module")
def plan(crown: tuple[Stack, dict[str, Bit]]) -> Plan:
    return plan_for(*crown)


@pytest.fixture(scope="module")
def methods(crown: tuple[Stack, dict[str, Bit]]) -> MethodsReport:
    return methods_for(*crown)


def words_of(text: str) -> str:
    """The words of a report without its line ends."""
    return " ".join(text.split())


# -- the plan --------------------------------------------------------------------------------------


@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_list_says_what_the_report_says(plan: Plan, units: str) -> None:
    report = words_of(plan_text(plan, units))
    rows = plan_rows(plan, units)
    for row in rows:
        if row.kind in ("pass", "said") and row.head != "Assumed":
            assert row.words in report, row.head
    assert sum(len(row.cells) for row in rows) == len(plan.steps)
    for part in plan_summary(plan):
        assert part.rstrip(".").lower() in report.lower()


def test_depths_are_listed_once_for_each_pass(plan: Plan) -> None:
    cavetto = next(row for row in plan_rows(plan, "mm") if "cavetto" in row.words)
    assert "in three depths: 6.0, 9.7, 10.27" in cavetto.words
    assert [cells[0] for cells in cavetto.cells] == ["6.000", "9.700", "10.268"]
    assert cavetto.place == 4


def test_what_says_stop_comes_first() -> None:
    # the edge is 6 mm high, the groove 20 deep: the stock above rubs the shank
    short = replace(straight(10.0), cutting_length=6.0, shank=12.7)
    stack, bits = stack_of((short, 30.0, 20.0))
    rows = plan_rows(plan_for(stack, bits, libraries=["@small-shop"]), "mm")
    assert rows[0].grave
    assert rows[0].head == "STOP"
    assert not any(row.grave for row in rows[len([row for row in rows if row.grave]) :])


def test_a_row_is_spoken_with_names_and_units() -> None:
    columns = (("below face", "mm"), ("chip", "mm"))
    row = PageRow("pass", "1: here", "why.", (("4.0", "0.1"), ("7.9", "0.1")), columns=columns)
    assert row.spoken == (
        "1: here. below face 4.0 mm, chip 0.1 mm. below face 7.9 mm, chip 0.1 mm. why."
    )
    assert row.heads == ()
    assert replace(row, names_columns=True).heads == (("below face", "chip"), ("mm", "mm"))


# -- the planned order -----------------------------------------------------------------------------


def test_the_planned_order_cuts_the_same_section(
    crown: tuple[Stack, dict[str, Bit]], plan: Plan
) -> None:
    stack, bits = crown
    edited = in_planned_order(plan, bits.get)
    assert edited is not None
    changed, label = edited
    assert label == LABEL
    assert sorted(map(repr, changed.passes)) == sorted(map(repr, stack.passes))
    before, after = (cut_and_judge(each, bits).cut.section.area for each in (stack, changed))
    assert after == pytest.approx(before, abs=1e-6)
    assert in_planned_order(plan_for(changed, bits), bits.get) is None
    assert planned_order_said(plan) == "the passes change places"


def test_rough_out_passes_are_added_with_a_bit_that_is_carried() -> None:
    large = core_box(50.8, edge=28.0)
    stack, bits = stack_of((large, 30.0, 20.0))
    plan = plan_for(stack, bits, libraries=["@small-shop"])
    added = [step for step in plan.steps if step.document_pass is None]
    assert added, "such a hollow is roughed out"
    edited = in_planned_order(plan, lambda _: None)
    assert edited is not None
    changed, _ = edited
    numbers = {step.pass_number for step in added}
    assert len(changed.passes) == 1 + len(numbers)
    assert changed.passes[-1] == stack.passes[0]
    assert all(single.relief for single in changed.passes[:-1])
    assert {bit.id for bit in changed.bits} == {step.bit.id for step in added}
    # a bit that is at hand anyway stays where it is
    at_hand = {step.bit.id: step.bit for step in added}
    edited = in_planned_order(plan, at_hand.get)
    assert edited is not None
    assert edited[0].bits == ()
    assert "added" in planned_order_said(plan)


def test_a_pass_that_is_off_stays_behind_the_one_it_followed(
    crown: tuple[Stack, dict[str, Bit]],
) -> None:
    stack, bits = crown
    off = with_changed(stack, (7,), lambda single: replace(single, on=False))
    plan = plan_for(off, bits)
    edited = in_planned_order(plan, bits.get)
    assert edited is not None
    passes = edited[0].passes
    assert len(passes) == len(stack.passes)
    assert passes[passes.index(off.passes[7]) - 1] == off.passes[6]


def test_an_order_that_is_the_planned_one_already_changes_nothing() -> None:
    stack, bits = stack_of((straight(12.0), 20.0, 5.0))
    plan = plan_for(stack, bits, libraries=["@small-shop"])
    assert in_planned_order(plan, bits.get) is None
    assert planned_order_said(plan) == ""


# -- methods ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", sorted(USUAL_SHOPS))
def test_lines_cross_where_the_break_even_is(
    crown: tuple[Stack, dict[str, Bit]], kind: str
) -> None:
    report = methods_for(*crown, USUAL_SHOPS[kind])
    stack, shop = report.stack, report.methods.plan.shop
    plot = methods_plot(report, "cost", "mm")
    able = {method.name: method for method in report.methods.methods if method.is_possible}
    crossings = {(each.less, each.more): each for each in plot.crossings}
    called = {line.name: line.called for line in plot.lines}
    seen = 0
    for one, other in itertools.permutations(able, 2):
        length = break_even(able[one].work, able[other].work, stack, shop)
        pieces = None if length is None else length / length_of_travel(stack)
        # of fewer than two pieces, bits may be changed in another way
        if pieces is not None and 2.0 <= pieces <= plot.most:
            crossing = crossings[called[other], called[one]]
            assert crossing.pieces == pytest.approx(pieces, rel=1e-6)
            seen += 1
    assert seen or kind != "cnc"


@pytest.mark.parametrize("units", ["mm", "in"])
def test_methods_are_told_as_in_the_report(methods: MethodsReport, units: str) -> None:
    report = words_of(methods_text(methods, units))
    for row in methods_rows(methods, units):
        if row.head != "Assumed":
            assert row.words in report, row.head


def test_values_of_the_lines_are_those_of_the_table(methods: MethodsReport) -> None:
    stack = methods.stack
    shop = methods.methods.plan.shop
    for quantity in ("cost", "minutes"):
        plot = methods_plot(methods, quantity, "in")
        assert plot.long_unit == "ft"
        for line in plot.lines:
            method = methods.methods.method(line.name)
            assert method is not None
            for pieces in (1, stack.run.pieces):
                told = (
                    method.work.cost(stack, shop, pieces)
                    if quantity == "cost"
                    else method.work.parts(stack, shop, pieces).total
                )
                assert line.at(float(pieces)) == pytest.approx(told)
                assert f"{told:.0f} for " in plot_said(plot)


# -- spread and test cut ---------------------------------------------------------------------------


def test_the_spread_in_words(crown: tuple[Stack, dict[str, Bit]]) -> None:
    report = cut_and_judge(*crown)
    spread = spread_of(report, crown[1])
    assert spread is not None
    half, most = spread.overcut
    told = spread_summary(spread, "mm")
    assert told.startswith(
        f"With the shop's usual errors: overcut {half:.3f} mm median, {most:.3f} in 95 of 100; "
    )
    passes = [row for row in spread_rows(spread, "mm") if row.kind == "pass"]
    deepest = max(spread.blames, key=lambda blame: blame.overcut)
    assert passes[0].head == f"Pass {deepest.number} matters most"
    assert passes[0].place == deepest.number - 1
    assert f"gouges deepest in {100 * deepest.overcut:.0f} of 100 cuts" in passes[0].words


def test_a_test_cut_in_words(crown: tuple[Stack, dict[str, Bit]]) -> None:
    stack, bits = crown
    checks = check_dimensions(stack, bits)
    first = checks[0]
    where = {"height": "height above the bed at x", "across": "from the fence edge at z"}
    assert check_said(first, "mm") == (
        f"1: {where[first.kind]} {first.place:.2f} mm, should read {first.nominal:.2f} mm"
    )
    readings = {check.number: check.nominal + 0.1 for check in checks}
    found = measure_readings(stack, bits, readings, MeasureWishes())
    rows = [row for row in measured_rows(found, "mm") if row.kind == "pass"]
    assert len(rows) == len(stack.passes)
    for row, single in zip(rows, found.corrected.passes, strict=True):
        assert row.cells[0][2] == f"{fixed(single.offset, 2)} mm"
        assert " ± " in row.cells[1][1]


def test_only_passes_that_are_on_are_told(crown: tuple[Stack, dict[str, Bit]]) -> None:
    stack, bits = crown
    fewer = without_passes(stack, (0, 1, 2, 3))
    off = with_changed(fewer, (1,), lambda single: replace(single, on=False))
    checks = check_dimensions(off, bits)
    readings = {check.number: check.nominal for check in checks}
    found = measure_readings(off, bits, readings, MeasureWishes())
    places = [row.place for row in measured_rows(found, "mm") if row.kind == "pass"]
    assert places == [place for place in range(len(off.passes)) if place != 1]


def test_the_usual_shop_is_the_usual_cnc() -> None:
    assert USUAL_SHOPS["cnc"] == USUAL_SHOP
