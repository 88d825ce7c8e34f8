"""What must hold for every stack that is cut."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely
import shapely.affinity
from hypothesis import assume, given
from hypothesis import strategies as st

from profilestack.bits.bit import Bit
from profilestack.bits.edge import has_undercut
from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.cutting.stroke import lie_of
from profilestack.geometry.path import Path
from profilestack.stack import (
    Blank,
    CurvedRun,
    OutlineStock,
    Pass,
    PathTarget,
    Rectangle,
    Round,
    Setup,
    Stack,
    StraightRun,
    TurnedRun,
)
from tests.laws.stacks import CHORD, Job, boards, drawers, fitted_jobs, jobs, law, passes_of, sizes

CRUMBS = 1e-6
"""Two ways to the same section may differ by so much [mm2]: edges of 100 mm, rounded at 1e-9."""


def differs(first: shapely.Geometry, second: shapely.Geometry) -> float:
    return float(shapely.symmetric_difference(first, second).area)


@law
@given(jobs())
def test_cutting_never_adds_area(job: Job) -> None:
    areas = [section.area for section in job.cut().sections]
    for before, after in pairwise(areas):
        assert after <= before * (1 + 1e-12)


@law
@given(jobs(), st.data())
def test_cutting_again_from_what_changed_is_cutting_all(job: Job, data: st.DataObject) -> None:
    """What an earlier cut lends is to the last bit what would be cut anew."""
    before = job.cut()
    passes = list(job.stack.passes)
    place = data.draw(st.integers(0, len(passes) - 1))
    match data.draw(st.sampled_from(("move", "drop", "swap", "off", "nothing"))):
        case "move":
            passes[place] = replace(passes[place], offset=passes[place].offset + 0.5)
        case "drop":
            del passes[place]
        case "swap":
            passes[0], passes[place] = passes[place], passes[0]
        case "off":
            passes[place] = replace(passes[place], on=not passes[place].on)
    changed = job.with_passes(*passes)
    again = cut_stack(changed.stack, changed.bits, CHORD, before)
    whole = cut_stack(changed.stack, changed.bits, CHORD)
    assert len(again.sections) == len(whole.sections)
    for one, other in zip(again.sections, whole.sections, strict=True):
        assert shapely.equals_identical(one, other)
    assert [single.removed_volume for single in again.passes] == [
        single.removed_volume for single in whole.passes
    ]


@law
@given(jobs())
def test_every_section_lies_in_the_one_before(job: Job) -> None:
    done = job.cut()
    assert shapely.difference(done.section, done.blank).area < CRUMBS
    for before, after in pairwise(done.sections):
        assert shapely.difference(after, before).area < CRUMBS


@law
@given(jobs())
def test_no_stock_is_left_where_a_bit_was(job: Job) -> None:
    done = job.cut()
    for stroke in done.strokes:
        assert shapely.intersection(done.section, stroke.region).area < CRUMBS


@law
@given(jobs(), st.randoms(use_true_random=False))
def test_order_never_changes_the_final_section(job: Job, chance: random.Random) -> None:
    passes = list(job.stack.passes)
    chance.shuffle(passes)
    assert differs(job.cut().section, job.with_passes(*passes).cut().section) < CRUMBS


@law
@given(jobs())
def test_removed_areas_and_what_is_left_are_the_blank(job: Job) -> None:
    done = job.cut()
    whole = math.fsum((done.section.area, *(single.removed_area for single in done.passes)))
    assert whole == pytest.approx(done.blank.area, rel=1e-9)
    volume = math.fsum((done.volume, *(single.removed_volume for single in done.passes)))
    run = job.stack.run
    assert isinstance(run, StraightRun)
    assert volume == pytest.approx(done.blank.area * run.length, rel=1e-9)


@law
@given(jobs(turned=False), sizes(0.0, 500.0), sizes(0.0, 500.0))
def test_volumes_of_stopped_passes_add_up(job: Job, begin: float, length: float) -> None:
    stack = replace(job.stack, run=StraightRun(1000.0))
    first, *rest = stack.passes
    stopped = replace(first, begin=begin, end=min(1000.0, begin + length + 1.0))
    done = cut_stack(replace(stack, passes=(stopped, *rest)), job.bits, CHORD)
    volume = math.fsum((done.volume, *(single.removed_volume for single in done.passes)))
    assert volume == pytest.approx(done.blank.area * 1000.0, rel=1e-9)


def moved_over(blank: Blank, by: float) -> Blank:
    """The same board as an outline, ``by`` wider on the left."""
    assert isinstance(blank.stock, Rectangle)
    w, t = blank.stock.width + by, blank.stock.thickness
    path = Path((0.0, 0.0)).line((w, 0.0)).line((w, t)).line((0.0, t)).line((0.0, 0.0))
    return Blank(OutlineStock(path))


@law
@given(jobs(turned=False), boards, sizes(0.5, 40.0))
def test_moving_all_moves_the_result(job: Job, blank: Blank, by: float) -> None:
    """Wood added on the left, every offset larger by as much: the old part is the same."""
    here = cut_stack(replace(job.stack, blank=blank), job.bits, CHORD)
    passes = tuple(replace(single, offset=single.offset + by) for single in job.stack.passes)
    wider = replace(job.stack, blank=moved_over(blank, by), passes=passes)
    there = shapely.affinity.translate(cut_stack(wider, job.bits, CHORD).section, -by, 0.0)
    old_part = shapely.intersection(there, here.blank)
    assert differs(old_part, here.section) < CRUMBS


@law
@given(jobs(turned=False))
def test_more_wood_below_changes_nothing_above(job: Job) -> None:
    """Depth is measured from the top: a thicker blank keeps the old section at its top."""
    blank = Blank(Rectangle(50.0, 40.0))
    thicker = Blank(Rectangle(50.0, 55.0))
    here = cut_stack(replace(job.stack, blank=blank), job.bits, CHORD).section
    there = cut_stack(replace(job.stack, blank=thicker), job.bits, CHORD).section
    lowered = shapely.intersection(shapely.affinity.translate(there, 0.0, -15.0), shapely.box(
        0.0, 0.0, 50.0, 40.0))  # fmt: skip
    assert differs(lowered, here) < CRUMBS


def mirrored(job: Job, width: float) -> Job:
    """Left for right: offsets from the other side, setups turned the other way."""
    setups = tuple(replace(setup, angle=-setup.angle) for setup in job.stack.setups)
    passes = tuple(
        replace(single, offset=width_in(job, single) - single.offset, pitch=-single.pitch)
        for single in job.stack.passes
    )
    return Job(replace(job.stack, setups=setups, passes=passes), job.bits)


def width_in(job: Job, single: Pass) -> float:
    return lie_of(job.stack.blank, job.stack.setup(single.setup).angle).width


@law
@given(jobs())
def test_a_mirrored_stack_gives_the_mirrored_section(job: Job) -> None:
    low, _, high, _ = job.cut().blank.bounds
    there = mirrored(job, high).cut().section
    back = shapely.affinity.scale(there, -1.0, 1.0, origin=((low + high) / 2.0, 0.0))
    is_dowel = isinstance(job.stack.blank.stock, Round)
    # the circle of a dowel is drawn from its right side: its chords are not mirrored exactly
    round_slack = 2 / 3 * CHORD * math.pi * high if is_dowel else 0.0
    assert differs(back, job.cut().section) < CRUMBS * 100 + 2 * round_slack


@law
@given(jobs())
def test_mirroring_twice_is_nothing(job: Job) -> None:
    _, _, high, _ = job.cut().blank.bounds
    again = mirrored(mirrored(job, high), high)
    assert differs(again.cut().section, job.cut().section) < CRUMBS * 100


@law
@given(jobs(turned=False), st.sampled_from((-360.0, 360.0)))
def test_a_full_turn_is_the_face(job: Job, angle: float) -> None:
    setups = (Setup("round", angle),)
    passes = tuple(replace(single, setup="round") for single in job.stack.passes)
    there = cut_stack(replace(job.stack, setups=setups, passes=passes), job.bits, CHORD)
    assert differs(there.section, job.cut().section) == 0.0


@law
@given(st.data(), drawers, sizes(20.0, 70.0), st.integers(2, 9))
def test_copies_of_a_dowel_commute(
    data: st.DataObject, bits: dict[str, Bit], size: float, n: int
) -> None:
    """Copies by the setup are the same cuts as n setups, each turned a share further."""
    single = data.draw(passes_of(bits, ("around",)))
    job = Job(random_dowel(size, n, single), bits)
    angles = [360.0 * k / n for k in range(n)]
    setups = tuple(Setup(f"turn {k}", angle) for k, angle in enumerate(angles))
    passes = tuple(replace(single, setup=setup.name) for setup in reversed(setups))
    there = replace(job.stack, setups=setups, passes=passes)
    again = cut_stack(there, bits, CHORD)
    assert differs(job.cut().section, again.section) < 1e-3
    removed = math.fsum(one.removed_area for one in again.passes)
    assert job.cut().passes[0].removed_area == pytest.approx(removed, abs=1e-3)


def random_dowel(size: float, n: int, single: Pass) -> Stack:
    return Stack(
        blank=Blank(Round(size)), run=StraightRun(500.0), setups=(Setup("around", 0.0, n),),
        passes=(single,),
    )  # fmt: skip


@law
@given(fitted_jobs, st.data())
def test_a_pass_more_never_makes_leftover_more(job: Job, data: st.DataObject) -> None:
    fewer = compare(job.cut())
    extra = data.draw(passes_of(job.bits))
    more = compare(job.with_passes(*job.stack.passes, extra).cut())
    assert fewer is not None
    assert more is not None
    assert more.leftover.max <= fewer.leftover.max + 2 * CHORD
    assert more.leftover.area <= fewer.leftover.area + CRUMBS
    assert more.leftover.volume <= fewer.leftover.volume + CRUMBS * 1000.0
    assert more.unreached_max <= fewer.unreached_max + 2 * CHORD
    # and what is cut away does not come back
    assert more.overcut.area >= fewer.overcut.area - CRUMBS
    assert more.overcut.max >= fewer.overcut.max - 2 * CHORD
    assert more.missing_max >= fewer.missing_max - 2 * CHORD


@law
@given(fitted_jobs)
def test_the_figures_of_a_comparison_agree_among_themselves(job: Job) -> None:
    done = job.cut()
    found = compare(done)
    assert found is not None
    wanted = found.wanted.area
    assert done.section.area == pytest.approx(
        wanted + found.leftover.area - found.overcut.area, abs=CRUMBS
    )
    assert 0.0 <= found.leftover.rms <= max(found.leftover.max, found.unreached_max) + CRUMBS
    assert 0.0 <= found.overcut.rms <= max(found.overcut.max, found.missing_max) + CRUMBS
    assert found.deviation.max() <= found.unreached_max + 1e-9
    assert -found.deviation.min() <= found.missing_max + 1e-9
    for ridge in found.ridges:
        assert ridge.height <= found.leftover.max + 1e-9
        assert all(0 <= number <= len(job.stack.passes) for number in ridge.between)


@law
@given(fitted_jobs)
def test_a_part_that_is_its_own_target_fits(job: Job) -> None:
    """The section's own outline, taken as a closed target, is met."""
    done = job.cut()
    assume(len(done.section.geoms) == 1)
    (piece,) = done.section.geoms
    assume(not piece.interiors and shapely.is_simple(piece.exterior))
    path = Path(piece.exterior.coords[0])
    for point in list(piece.exterior.coords)[1:]:
        path = path.line(point)
    own = replace(job.stack, target=PathTarget(path, closed=True))
    found = compare(cut_stack(own, job.bits, CHORD))
    assert found is not None
    assert found.leftover_worst < 1e-6
    assert found.overcut_worst < 1e-6


@law
@given(jobs(turned=False), sizes(100.0, 900.0))
def test_a_curve_tends_to_the_straight(job: Job, length: float) -> None:
    """Volume along an arc of radius R over the same length at the blank's left side: it differs
    from the straight by the centroid's share of the radius."""
    straight = cut_stack(replace(job.stack, run=StraightRun(length)), job.bits, CHORD)
    for radius in (1e3, 1e5, 1e7):
        run = CurvedRun(radius, math.degrees(length / radius))
        curved = cut_stack(replace(job.stack, run=run), job.bits, CHORD)
        width = float(np.ptp(curved.blank.bounds[::2]))
        pairs = [(straight.volume, curved.volume)]
        pairs += [
            (one.removed_volume, other.removed_volume)
            for one, other in zip(straight.passes, curved.passes, strict=True)
        ]
        for flat, bent in pairs:
            assert -1e-3 <= bent - flat <= flat * width / radius + 1e-3


@law
@given(jobs(turned=False))
def test_turned_volumes_add_up_to_the_cylinder(job: Job) -> None:
    passes = tuple(one for one in job.stack.passes if not has_undercut(job.bits[one.bit]))
    stack = replace(job.stack, run=TurnedRun(), passes=passes, blank=Blank(Rectangle(80.0, 40.0)))
    done = cut_stack(stack, job.bits, CHORD)
    volume = math.fsum((done.volume, *(one.removed_volume for one in done.passes)))
    assert volume == pytest.approx(math.pi * 40.0**2 * 80.0, rel=1e-9)
