"""Trial cuts in arrays are what the engine cuts one by one, and what matters is seen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.edge import largest_radius
from profilestack.cutting.comparison import Comparison, compare
from profilestack.cutting.cut import cut_stack
from profilestack.cutting.stroke import lie_of
from profilestack.errors import Cancelled
from profilestack.files.stack_file import read_stack
from profilestack.jobs.opening import find_bits
from profilestack.planning import spreading
from profilestack.planning.spreading import explained, try_cuts
from profilestack.planning.trial_cuts import DIAMETER_STEP, trial_cuts
from profilestack.planning.usual_errors import Source, UsualErrors, sources_of
from profilestack.progress import Progress
from profilestack.stack import Setup, Stack
from tests.shop import board, core_box, lines, roundover, stack_of, straight, vee
from tests.unit.planning.shipped import CROWN

NONE = UsualErrors(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def crown() -> tuple[Stack, Mapping[str, Bit]]:
    stack = read_stack(CROWN)
    return stack, find_bits(stack)[0]


def one_by_one(
    stack: Stack, bits: Mapping[str, Bit], sources: tuple[Source, ...], errors: np.ndarray
) -> Comparison:
    """The plain way: the document with its offsets, depths, bits and setups changed, cut anew."""
    passes, setups, worn = list(stack.passes), list(stack.setups), dict(bits)
    for source, error in zip(sources, errors.tolist(), strict=True):
        for place in source.passes:
            single = passes[place]
            if source.kind in ("touch-off", "depth"):
                passes[place] = replace(single, depth=single.depth + error)
            elif source.kind in ("edge zero", "offset", "blank"):
                passes[place] = replace(single, offset=single.offset + error)
        if source.kind == "diameter":
            error = round(error / DIAMETER_STEP) * DIAMETER_STEP
            size = 2.0 * largest_radius(bits[source.bit]) + error
            worn[source.bit] = replace(bits[source.bit], measured=size)
        if source.kind == "wedge":
            for k, setup in enumerate(setups):
                if setup.name == source.setup:
                    setups[k] = replace(setup, angle=setup.angle + error)
    for k, single in enumerate(passes):  # the zero stays on the bed
        old, new = (
            lie_of(stack.blank, next((s.angle for s in some if s.name == single.setup), 0.0))
            for some in (stack.setups, setups)
        )
        passes[k] = replace(single, depth=single.depth + new.height - old.height)
    off = replace(stack, passes=tuple(passes), setups=tuple(setups))
    comparison = compare(cut_stack(off, worn, spreading.CHORD))
    assert comparison is not None
    return comparison


def test_many_cuts_at_once_are_the_cuts_one_by_one() -> None:
    stack, bits = crown()
    trials = try_cuts(stack, bits, 12, seed=3)
    for k in range(12):
        plain = one_by_one(stack, bits, trials.sources, trials.errors[k])
        assert trials.leftover[k] == pytest.approx(plain.leftover.max, abs=0.004)
        assert trials.overcut[k] == pytest.approx(plain.overcut.max, abs=0.004)
        # at samples half a millimetre apart: never more, and little less
        assert plain.missing_max - 0.05 <= trials.missing[k] <= plain.missing_max + 0.004
        assert plain.unreached_max - 0.05 <= trials.unreached[k] <= plain.unreached_max + 0.004


def test_without_errors_every_cut_is_the_document() -> None:
    stack, bits = crown()
    trials = try_cuts(stack, bits, 3, seed=1, errors=NONE)
    plain = compare(cut_stack(stack, bits, spreading.CHORD))
    assert plain is not None
    assert trials.leftover == pytest.approx([plain.leftover.max] * 3, abs=0.002)
    assert trials.overcut == pytest.approx([plain.overcut.max] * 3, abs=0.002)
    assert trials.band == pytest.approx(np.tile(plain.deviation, (3, 1)), abs=1e-6)


def test_copies_and_repeats_are_cut_too() -> None:
    stack, bits = stack_of(
        (core_box(8.0), 10.0, 3.0, {"count": 3, "pitch": 12.0, "setup": "round"}),
        blank=board(50.0, 40.0), setups=(Setup("round", 30.0, 4),),
    )  # fmt: skip
    sources = sources_of(stack, bits)
    tried = trial_cuts(stack, bits, sources, np.zeros((1, len(sources))), 0.001)
    plain = cut_stack(stack, bits, 0.001)
    assert len(tried.strokes) == len(plain.strokes) == 12
    assert tried.sections[0].symmetric_difference(plain.section).area < 1e-9


def test_a_level_floor_spreads_as_its_depth_does() -> None:
    """Depth alone is off: overcut is the depth's error where it is deeper, else nothing."""
    stack, bits = stack_of(
        (straight(60.0, measured=60.0), 30.0, 10.0),
        blank=board(60.0, 30.0), target=lines((0.0, 20.0), (60.0, 20.0)),
    )  # fmt: skip
    errors = replace(NONE, touch_off=0.1)
    trials = try_cuts(stack, bits, 4000, seed=5, errors=errors)
    column = next(k for k, each in enumerate(trials.sources) if each.kind == "touch-off")
    deeper = trials.errors[:, column]
    assert trials.missing == pytest.approx(np.maximum(deeper, 0.0), abs=1e-9)
    assert trials.unreached == pytest.approx(np.maximum(-deeper, 0.0), abs=1e-9)
    # 90 % of a normal spread lie within 1.645 sigma on both sides
    assert trials.band[:, 10] == pytest.approx([-0.1645, 0.0, 0.1645], abs=0.01)
    assert trials.shares[0].source.kind == "touch-off"
    assert trials.shares[0].overcut > 0.7


def test_the_pass_that_is_worst_is_named() -> None:
    """Two grooves: only the second one's bit is off."""
    target = lines(
        (0.0, 30.0), (10.0, 30.0), (10.0, 24.0), (20.0, 24.0), (20.0, 30.0),
        (40.0, 30.0), (40.0, 24.0), (52.0, 24.0), (52.0, 30.0), (60.0, 30.0),
    )  # fmt: skip
    stack, bits = stack_of(
        (straight(10.0, measured=10.0), 15.0, 6.0), (straight(12.0), 46.0, 6.0), target=target
    )
    trials = try_cuts(stack, bits, 200, seed=2, errors=replace(NONE, bit_mean=0.2, bit_spread=0.05))
    assert trials.blames[0].number == 2
    assert trials.blames[0].overcut == pytest.approx(1.0)
    assert trials.shares[0].source.kind == "diameter"
    assert trials.shares[0].source.numbers == (2,)


def test_worn_means_moved_inward_not_narrower_alone() -> None:
    """A core box that wears loses radius: zeroed at its tip, it leaves stock at both sides."""
    stack, bits = stack_of((core_box(20.0), 30.0, 10.0), target=None)
    source = (Source("diameter", (0,), 0.05, bit="core-box 20"),)
    worn = trial_cuts(stack, bits, source, np.array([[-0.5]]), 0.001, rounds=False)
    area = 60.0 * 30.0 - worn.sections[0].area
    radius = 10.0 - 0.25  # half round of that radius, straight walls above it
    assert area == pytest.approx(np.pi * radius**2 / 2 + 2 * radius * 0.25, abs=0.03)


def test_sources_reach_the_passes_that_share_them() -> None:
    stack, bits = stack_of(
        (vee(20.0, 90.0), 10.0, 3.0), (vee(20.0, 90.0), 20.0, 3.0),
        (roundover(5.0, 3.0), 40.0, 4.0),
        (vee(20.0, 90.0), 20.0, 3.0, {"setup": "wedge"}), setups=(Setup("wedge", 30.0),),
    )  # fmt: skip
    found = [(each.kind, each.numbers) for each in sources_of(stack, bits)]
    assert ("touch-off", (1, 2)) in found
    assert ("touch-off", (4,)) in found
    assert ("diameter", (1, 2, 4)) in found
    assert ("edge zero", (1, 2, 3)) in found
    assert ("blank", (4,)) in found
    assert ("wedge", (4,)) in found
    assert not any(kind in ("blank", "wedge") and 1 in numbers for kind, numbers in found)


def test_explained_is_one_for_the_cause_and_nothing_for_chance() -> None:
    chance = np.random.default_rng(4)
    error, other = chance.normal(size=(2, 1000))
    assert explained(error, error**3) > 0.95
    assert explained(error, np.abs(error)) > 0.8  # harm on both sides has no correlation
    assert explained(other, error) < 0.03


def test_the_seed_decides() -> None:
    stack, bits = crown()
    one, two, other = (try_cuts(stack, bits, 5, seed=seed) for seed in (1, 1, 2))
    assert np.array_equal(one.band, two.band)
    assert not np.array_equal(one.band, other.band)


def test_the_cuts_are_told_and_can_be_stopped_half_way() -> None:
    stack, bits = crown()
    told: list[tuple[float, str]] = []
    heard = Progress(lambda share, doing: told.append((share, doing)))
    try_cuts(stack, bits, 120, seed=1, progress=heard)
    assert told == [
        (0.0, "trial cut 1 of 120"), (50 / 120, "trial cut 51 of 120"),
        (100 / 120, "trial cut 101 of 120"),
    ]  # fmt: skip
    told.clear()
    with pytest.raises(Cancelled):
        try_cuts(stack, bits, 120, 1, progress=replace(heard, is_stopped=lambda: len(told) == 2))
    assert len(told) == 2


def test_batches_are_the_cuts_all_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    stack, bits = crown()
    parted = try_cuts(stack, bits, 70, seed=4)
    monkeypatch.setattr(spreading, "BATCH", 70)
    whole = try_cuts(stack, bits, 70, seed=4)
    for key in ("leftover", "overcut", "unreached", "missing", "band"):
        assert np.array_equal(getattr(parted, key), getattr(whole, key)), key
    assert np.array_equal(parted.overcut_at, whole.overcut_at, equal_nan=True)
    assert parted.blames == whole.blames
    assert parted.shares == whole.shares
