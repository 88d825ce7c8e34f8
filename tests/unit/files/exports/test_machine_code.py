"""Machine code: read back by a simulator that cuts the same section, and nothing else."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from profilestack.cutting.caution import Caution
from profilestack.cutting.cut import cut_stack
from profilestack.errors import InputError
from profilestack.files.exports.machine_code import CodeWishes, code_bytes
from profilestack.planning.machine import Machine
from profilestack.planning.plan import Plan, Rest
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS
from profilestack.planning.toolpath.programs import programs_of
from profilestack.stack import Blank, CurvedRun, Round, Setup, StraightRun, TurnedRun
from tests.machine_simulator import CodeError, run_code
from tests.plans import in_depths, plan_of, step_of
from tests.shop import board, core_box, roundover, stack_of, straight, vee
from tests.simulated import largest_distance, section_after

WORDS = {"G0", "G1", "G2", "G3", "G17", "G20", "G21", "G54", "G90", "G94", "M2", "M3", "M5", "M6"}
"""RS-274 words (NIST RS274NGC report, memory), those that are written."""


def codes_of(plan: Plan, units: str = "mm", zero="bed", per_bit: bool = False):
    programs = programs_of(plan, per_bit=per_bit)
    wishes = CodeWishes(units, zero, len(programs))
    return programs, [code_bytes(program, plan, (), wishes) for program in programs]


def wanted_of(plan: Plan):
    """The engine's section, flattened a hundred times finer than usual."""
    bits = {step.bit.id: step.bit for step in plan.steps}
    return cut_stack(plan.stack, bits, 1e-5).section


def check_section(plan: Plan, units: str = "mm", zero="bed", per_bit: bool = False) -> None:
    """The code's section is the engine's but for rounding.

    Coordinates are rounded to 0.0001 mm or 0.00001 in (off by 0.000127 mm at most); where cuts
    meet in an arris of 45 degrees it moves by up to three times as much.
    """
    programs, codes = codes_of(plan, units, zero, per_bit)
    left = section_after(plan.stack, programs, codes, zero_at_face=zero == "face")
    wanted = wanted_of(plan)
    assert left.symmetric_difference(wanted).area <= 0.00015 * wanted.boundary.length
    assert largest_distance(left, wanted) <= 0.0005


def ogee(run, **other):
    """A core box and a roundover on a board, with a rough-out lane before."""
    bits = (straight(19.05), core_box(25.4), roundover(12.7, 3.175))
    return stack_of(
        (bits[0], 38.0, 16.0, {"relief": True}), (bits[1], 32.7, 20.0), (bits[2], 21.5875, 7.3),
        blank=board(60.0, 40.0), run=run, **other,
    )  # fmt: skip


@pytest.mark.parametrize("zero", ["bed", "face"])
@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("per_bit", [False, True])
@pytest.mark.parametrize(
    "run", [StraightRun(800.0), CurvedRun(900.0, 60.0), CurvedRun(200.0, 300.0)]
)
def test_the_simulator_cuts_the_same_section(run, units, zero, per_bit):
    check_section(plan_of(*ogee(run)), units, zero, per_bit)


def test_steps_of_several_depths_and_repeats_leave_the_same_section():
    stack, bits = stack_of(
        (straight(12.0), 10.0, 9.0, {"count": 3, "pitch": 10.0}), (vee(20.0, 90.0, 0.5), 48.0, 6.0)
    )
    first, second = (step_of(stack, bits, number) for number in (1, 2))
    check_section(plan_of(stack, bits, [*in_depths(first, 3.0, 6.0), second]))


def test_travels_from_the_right_end_leave_the_same_section():
    for run in (StraightRun(500.0), CurvedRun(300.0, 90.0)):
        stack, bits = ogee(run)
        steps = [step_of(stack, bits, k, from_left=k == 2) for k in (1, 2, 3)]
        check_section(plan_of(stack, bits, steps))


def test_a_ring_is_entered_on_a_slope():
    plan = plan_of(*ogee(CurvedRun(250.0, 360.0)))
    check_section(plan)
    _, (code,) = codes_of(plan)
    machine = run_code(code)
    for move in machine.moves:
        drop = move.places[0, 2] - move.places[-1, 2]
        if move.kind in ("G2", "G3") and drop > 0.0:
            along = abs(drop) / sum(
                ((a - b)[:2] ** 2).sum() ** 0.5
                for a, b in zip(move.places[1:], move.places[:-1], strict=True)
            )
            assert along <= 0.0525  # tan 3 degrees = 0.0524


@pytest.mark.parametrize("angle", [90.0, 180.0, -45.0])
def test_setups_have_programs_of_their_own(angle: float):
    tilted = Setup("tilted", angle)
    stack, bits = stack_of(
        (vee(20.0, 90.0, 0.5), 20.0, 6.0),
        (straight(12.0), 15.0, 12.0, {"setup": "tilted"}),
        (core_box(12.0), 40.0, 4.0),
        setups=(tilted,),
    )
    plan = plan_of(stack, bits)
    programs, codes = codes_of(plan)
    assert [program.setup.name for program in programs] == ["face", "tilted", "face"]
    check_section(plan)
    assert b"(program 2 of 3" in codes[1]


def test_flutes_are_one_program_that_is_run_for_each():
    around = Setup("around", 22.5, 16)
    stack, bits = stack_of(
        (core_box(8.0), 20.0, 2.2, {"setup": "around"}), blank=Blank(Round(40.0)), setups=(around,)
    )
    plan = plan_of(stack, bits)
    _, (code,) = codes_of(plan)
    assert b"run it 16 times" in code
    check_section(plan)


@pytest.mark.parametrize(
    ("begin", "end"), [(60.0, None), (None, 640.0), (60.0, 640.0), (300.0, 312.0)]
)
@pytest.mark.parametrize("from_left", [True, False])
def test_stopped_passes_go_down_on_a_slope(begin, end, from_left):
    groove = core_box(8.0)
    keys = {"begin": begin, "end": end}
    stack, bits = stack_of((groove, 30.0, 5.0, keys), run=StraightRun(700.0))
    step = step_of(stack, bits, 1, from_left=from_left)
    plan = plan_of(stack, bits, in_depths(step, 2.5))
    programs, codes = codes_of(plan)
    inside = ((begin or 0.0) + (end or 700.0)) / 2.0 / 700.0
    left = section_after(stack, programs, codes, share=inside)
    assert largest_distance(left, wanted_of(plan)) <= 0.0005
    for share, cut in ((20.0 / 700.0, begin is None), (680.0 / 700.0, end is None)):
        beyond = section_after(stack, programs, codes, share=share)
        assert (beyond.area < 1799.0) == cut


def test_a_dovetail_comes_in_and_goes_out_by_the_open_end():
    from profilestack.bits.shapes import Dovetail
    from tests.shop import bit

    tail = bit("dovetail", Dovetail(12.7, 14.0), 8.0)
    stack, bits = stack_of((tail, 30.0, 6.0, {"end": 500.0}), run=StraightRun(700.0))
    for from_left in (True, False):
        plan = plan_of(stack, bits, [step_of(stack, bits, 1, from_left=from_left)])
        programs, codes = codes_of(plan)
        left = section_after(stack, programs, codes, share=0.5)
        assert largest_distance(left, wanted_of(plan)) <= 0.0005
        # it never moves up or down over the part
        for move in run_code(codes[0]).moves:
            if move.places[0, 2] != move.places[-1, 2]:
                assert move.places[0, 1] < -6.35
    closed, bits = stack_of(
        (tail, 30.0, 6.0, {"begin": 100.0, "end": 500.0}), run=StraightRun(700.0)
    )
    with pytest.raises(InputError, match="narrows above its tip"):
        programs_of(plan_of(closed, bits))


def test_only_the_open_words_are_written():
    _, codes = codes_of(plan_of(*ogee(CurvedRun(900.0, 60.0))))
    for code in codes:
        text = code.decode("ascii")
        assert "e+" not in text
        assert max(map(len, text.splitlines())) < 80
        bare = re.sub(r"\([^()]*\)", "", text)
        assert set(re.findall(r"[GM]\d+", bare)) <= WORDS
        assert set(re.findall(r"[A-Z]", bare)) <= set("FGIJMSTXYZ")
        lines = bare.split("\n")
        first = next(line for line in lines if line.strip())
        assert first == "G17 G21 G90 G94 G54"


def test_each_bit_turns_at_its_own_speed_and_stops_for_the_change():
    stack, bits = ogee(StraightRun(800.0))
    speeds = (18000.0, 16000.0, 16000.0)
    steps = [step_of(stack, bits, k, rpm=speeds[k - 1], feed=1000.0 * k) for k in (1, 2, 3)]
    _, (code,) = codes_of(plan_of(stack, bits, steps))
    machine = run_code(code)
    assert machine.changes == [1, 2, 3]
    cuts = [move for move in machine.moves if move.kind != "G0"]
    assert {(move.tool, move.rpm) for move in cuts} == {(1, 18000.0), (2, 16000.0), (3, 16000.0)}
    along = {(move.tool, move.feed) for move in cuts if move.places[0, 2] == move.places[1, 2]}
    assert along == {(1, 1000.0), (2, 2000.0), (3, 3000.0)}


def test_after_a_change_the_bit_is_lifted_before_it_goes_across():
    """The touch-off leaves a new bit down at its zero."""
    _, (code,) = codes_of(plan_of(*ogee(StraightRun(800.0))))
    rows = [row for row in code.decode("ascii").splitlines() if not row.startswith("(")]
    changes = [place for place, row in enumerate(rows) if "M6" in row]
    assert len(changes) == 3
    for place in changes:
        assert rows[place - 1] == rows[place + 1] == "G0 Z55"  # 40 of wood and 15
    with pytest.raises(CodeError, match="height"):
        run_code(code.replace(b"T2 M6\nG0 Z55\n", b"T2 M6\n"))


def test_one_bit_is_put_in_by_hand_unless_the_machine_changes_bits():
    stack, bits = stack_of((core_box(8.0), 30.0, 3.0))
    _, (code,) = codes_of(plan_of(stack, bits))
    assert run_code(code).changes == []
    shop = USUAL_SHOPS["cnc-with-changer"]
    _, (code,) = codes_of(plan_of(stack, bits, shop=shop))
    assert run_code(code).changes == [1]


def test_a_bend_that_is_nearly_closed_leaves_no_room_to_come_in():
    """A bit of 12 stands 16 from the end, its far side 22; 5 degrees about 200 are 17.5."""
    stack, bits = stack_of((core_box(12.0), 30.0, 3.0), run=CurvedRun(200.0, 355.0))
    with pytest.raises(InputError, match=r"run\.angle: .*17 mm between the ends.*22 mm"):
        programs_of(plan_of(stack, bits))
    stack, bits = stack_of((core_box(12.0), 30.0, 3.0), run=CurvedRun(200.0, 350.0))
    check_section(plan_of(stack, bits))


def test_bits_stand_clear_of_the_ends_before_they_go_down():
    plan = plan_of(*ogee(StraightRun(800.0)))
    programs, (code,) = codes_of(plan)
    machine = run_code(code)
    for move in machine.moves:
        widest = programs[0].bits[move.tool - 1].shape.size / 2.0
        if move.kind == "G1" and move.places[0, 2] > move.places[1, 2]:
            assert move.places[0, 1] <= -widest - 9.99 or move.places[0, 1] >= 800.0 + widest + 9.99


@pytest.mark.parametrize("run", [StraightRun(800.0), CurvedRun(900.0, 60.0)])
def test_wood_beyond_the_ends_is_kept_clear_of(run):
    plan = plan_of(*ogee(run))
    (program,) = programs_of(plan, extra=100.0)
    code = code_bytes(program, plan, (), CodeWishes("mm"))
    assert b"the wood may reach 100 mm beyond each end" in code
    for move in run_code(code).moves:
        widest = program.bits[move.tool - 1].shape.size / 2.0
        # each first travel comes down at the left end, where both runs go along y
        if move.kind == "G1" and move.places[0, 2] > move.places[1, 2]:
            assert move.places[0, 1] == pytest.approx(-widest - 110.0, abs=1e-4)
    left = section_after(plan.stack, [program], [code])
    assert largest_distance(left, wanted_of(plan)) <= 0.0005


def test_nothing_goes_beyond_the_safe_height_and_the_deepest_cut():
    plan = plan_of(*ogee(StraightRun(800.0)))
    _, (code,) = codes_of(plan)
    heights = [z for move in run_code(code).moves for z in move.places[:, 2]]
    assert max(heights) == pytest.approx(40.0 + USUAL_SHOP.machine.safe_height)
    assert min(heights) == pytest.approx(20.0)


def test_a_rest_parts_the_program():
    stack, bits = ogee(StraightRun(800.0))
    plan = plan_of(stack, bits, rests=(Rest(2, 0.4),))
    programs, codes = codes_of(plan)
    assert [program.rests for program in programs] == [False, True]
    assert b"let the wood rest" in codes[1]
    assert b"let the wood rest" not in codes[0]
    assert b"set z 0 lower than the bed by so much" in codes[1]
    _, codes = codes_of(plan, zero="face")
    assert b"lower than the bed" not in codes[1]


def shop(**figures):
    return replace(USUAL_SHOP, machine=replace(Machine(), **figures))


@pytest.mark.parametrize(
    ("figures", "told"),
    [
        ({"length": 700.0}, "machine.length: setup 'face' takes"),
        ({"travel": 30.0}, "machine.travel: setup 'face' takes 35 mm up and down"),
        ({"clearance": 54.0}, "stands 40 mm high; expected at most 39 mm under the gantry"),
        ({"width": 10.0}, "machine.width: setup 'face' takes 16.41 mm across"),
    ],
)
def test_what_the_machine_cannot_reach_is_refused(figures, told):
    stack, bits = ogee(StraightRun(800.0))
    with pytest.raises(InputError, match=re.escape(told)):
        programs_of(plan_of(stack, bits, shop=shop(**figures)))


def test_a_bend_is_measured_by_its_arc_and_not_by_its_ends():
    """Half a circle of radius 300 + 38: ends on one line, its middle 338 beyond."""
    stack, bits = stack_of((straight(12.0), 38.0, 5.0), run=CurvedRun(300.0, 180.0))
    with pytest.raises(InputError, match=r"machine\.length"):
        programs_of(plan_of(stack, bits, shop=shop(length=350.0)))
    assert programs_of(plan_of(stack, bits, shop=shop(length=375.0)))


def test_turned_parts_and_tables_have_no_program():
    stack, bits = stack_of((core_box(8.0), 30.0, 3.0), run=TurnedRun())
    with pytest.raises(InputError, match="wants an axis that turns"):
        programs_of(plan_of(stack, bits))
    stack, bits = stack_of((core_box(8.0), 30.0, 3.0))
    with pytest.raises(InputError, match="a router table runs no program"):
        programs_of(plan_of(stack, bits, shop=USUAL_SHOPS["router-table"]))


def test_the_header_says_what_the_operator_must_know():
    stack, bits = ogee(StraightRun(800.0), title="Crown (upper) – «été»\nM30 G0 X999")
    plan = plan_of(stack, bits)
    (program,) = programs_of(plan)
    caution = Caution("thin-fin", "warn", 2, "A fin of {0} stays (mind it).", (1.5,))
    text = code_bytes(program, plan, [caution], CodeWishes("mm", "bed", 1)).decode("ascii")
    head = text.split("G17")[0]
    flat = " ".join(row.strip("() ") for row in head.splitlines())
    assert "60 mm x 40 mm across x high, 800 mm long" in flat
    assert "z 0 the bed under it" in flat
    assert "without spare ends" in flat
    assert "warn thin-fin: pass 2: A fin of 1.5 mm stays [mind it]." in flat
    assert "T2: core-box 25.4, diameter 25.4 mm, 16000 rpm" in flat
    assert "qualified operator" in flat
    run_code(text.encode())  # no word of the title became a word of the code


def test_the_same_plan_gives_the_same_bytes():
    plan = plan_of(*ogee(CurvedRun(900.0, 60.0)))
    assert codes_of(plan)[1] == codes_of(plan_of(*ogee(CurvedRun(900.0, 60.0))))[1]
