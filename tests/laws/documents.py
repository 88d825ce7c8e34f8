"""Hypothesis strategies for whole documents: every key, every shape, any sound number."""

from __future__ import annotations

import math
from typing import Any

from hypothesis import strategies as st

from profilestack.bits import Bit, BitShape
from profilestack.bits.shapes import SHAPES
from profilestack.geometry.path import Path
from profilestack.stack import (
    Blank,
    CurvedRun,
    MemberTarget,
    OutlineStock,
    Pass,
    PathTarget,
    Rectangle,
    Round,
    Setup,
    Stack,
    StraightRun,
    Tolerance,
    TurnedRun,
)
from profilestack.targets.members import Member, MemberColumn

# XML's and the console's troubles are not a file's: any character but half ones
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
words = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=12)


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Round numbers, inch fractions and any floats [mm]."""
    whole = st.integers(math.ceil(low), math.floor(high)).map(float)
    parts = st.integers(math.ceil(low / 25.4 * 64), math.floor(high / 25.4 * 64))
    floats = st.floats(low, high, allow_subnormal=False).filter(lambda x: x == 0 or abs(x) > 1e-30)
    return st.one_of(whole, parts.map(lambda n: n * 25.4 / 64), floats)


sizes = lengths(1.0, 500.0)
places = lengths(-900.0, 900.0)


@st.composite
def shapes(draw: st.DrawFn) -> BitShape:
    """A bit shape that can exist at a short cutting length."""
    word = draw(st.sampled_from(sorted(SHAPES)))
    size, angle = draw(lengths(6.0, 60.0)), draw(st.floats(2.0, 40.0))
    keys: dict[str, dict[str, Any]] = {
        "v-groove": {"diameter": size, "angle": 2.0 * angle, "tip": draw(lengths(0.0, 1.0))},
        "cove": {"radius": size, "tip": draw(lengths(0.0, 5.0))},
        "roundover": {"radius": size, "tip": draw(lengths(0.0, 5.0))},
        "ogee": {"cove_radius": size, "round_radius": draw(lengths(2.0, 9.0)), "tip": 1.0},
        "reverse-ogee": {"cove_radius": size, "round_radius": draw(lengths(2.0, 9.0))},
        "bullnose": {"radius": size, "tip": draw(lengths(3.0, 9.0))},
        "dovetail": {"diameter": size, "angle": draw(st.floats(1.0, 20.0))},
        "taper-ball": {"radius": draw(lengths(0.5, 3.0)), "angle": angle, "diameter": size},
        "outline": {"outline": Path((0, 0)).line((size, 0)).arc((size, 4), (size, 2), "ccw")},
    }
    return SHAPES[word](**keys.get(word, {"diameter": size}))


@st.composite
def bits(draw: st.DrawFn) -> Bit:
    """A bit with any of its optional keys."""
    shape = draw(shapes())
    cutting = draw(lengths(1.0, 4.0))
    pilot = draw(st.none() | st.tuples(lengths(1.0, 20.0), lengths(1.0, 20.0)))
    positive = st.none() | st.floats(0.01, 1e6)
    return Bit(
        id=draw(words),
        shape=shape,
        cutting_length=cutting,
        shank=draw(lengths(1.0, 20.0)),
        length=draw(lengths(40.0, 200.0)),
        name=draw(texts),
        flutes=draw(st.integers(1, 12)),
        max_rpm=draw(positive),
        plunges=draw(st.booleans()),
        grip=draw(lengths(10.0, 30.0)),
        pilot_diameter=pilot and pilot[0],
        pilot_length=pilot and pilot[1],
        price=draw(positive),
        note=draw(texts),
    )


@st.composite
def setups(draw: st.DrawFn) -> Setup:
    """Any setup but the one that always exists."""
    return Setup(
        draw(words.filter(lambda word: word != "face")),
        draw(st.floats(-360.0, 360.0)),
        draw(st.integers(1, 360)),
    )


@st.composite
def passes(draw: st.DrawFn, names: list[str], length: float | None) -> Pass:
    """Any pass; stopped ones only along a straight part of ``length`` [mm]."""
    begin = end = None
    if length is not None and draw(st.booleans()):
        begin = draw(st.none() | lengths(0.0, 400.0))
        end = draw(st.none() | lengths(500.0, 900.0))
    count = draw(st.integers(1, 1000))
    return Pass(
        bit=draw(words),
        offset=draw(places),
        depth=draw(sizes),
        setup=draw(st.sampled_from(names)),
        count=count,
        pitch=draw(places.filter(lambda pitch: pitch != 0.0 or count == 1)),
        begin=begin,
        end=end,
        on=draw(st.booleans()),
        relief=draw(st.booleans()),
        note=draw(texts),
    )


@st.composite
def blanks(draw: st.DrawFn) -> Blank:
    """Any kind of blank."""
    width, height, corner = draw(sizes), draw(sizes), draw(lengths(1.0, 30.0))
    drawn = Path((0.0, 0.0)).line((width + corner, 0.0)).line((width + corner, height))
    drawn = drawn.arc((width, height + corner), (width, height), "ccw")
    drawn = drawn.line((0.0, height + corner)).line((0.0, 0.0))
    stock = draw(st.sampled_from([Rectangle(width, height), Round(width), OutlineStock(drawn)]))
    return Blank(stock, draw(st.none() | texts))


@st.composite
def path_targets(draw: st.DrawFn) -> PathTarget:
    """A staircase down to the right with quarter rounds and hollows; or a closed piece."""
    if draw(st.booleans()):
        w, t = draw(sizes), draw(sizes)
        closed = Path((0.0, 0.0)).line((0.0, t)).line((w, t)).arc((w, 0.0), (w, t / 2.0), "cw")
        return PathTarget(closed.line((0.0, 0.0)), closed=True)
    path = Path((0.0, 0.0))
    for kind in draw(st.lists(st.sampled_from(["across", "down", "cw", "ccw"]), min_size=1)):
        x, z = path.end
        step = draw(lengths(1.0, 40.0))
        if kind == "across":
            path = path.line((x + step, z))
        elif kind == "down":
            path = path.line((x + step / 9.0, z - step))
        elif kind == "cw":
            path = path.arc((x + step, z - step), (x, z - step), "cw")
        else:
            path = path.arc((x + step, z - step), (x + step, z), "ccw")
    return PathTarget(path)


@st.composite
def member_targets(draw: st.DrawFn) -> MemberTarget:
    """A column that never runs into itself, lying and placed anyhow."""
    members = tuple(
        Member(word, height=height, projection=None if word == "fillet" else height)
        for word, height in draw(
            st.lists(
                st.tuples(st.sampled_from(["fillet", "cavetto", "ovolo"]), lengths(1.0, 30.0)),
                min_size=1,
                max_size=5,
            )
        )
    )
    lie = draw(st.sampled_from(["upright", "head-down", "flat"]))
    return MemberTarget(
        MemberColumn(
            members,
            lie,
            back=draw(lengths(1.0, 40.0)),
            at=draw(st.tuples(places, places)),
            scale=draw(st.floats(0.01, 100.0)),
            rotation=draw(st.floats(-360.0, 360.0)),
            mirror=draw(st.booleans()),
        )
    )


@st.composite
def stacks(draw: st.DrawFn) -> Stack:
    """A whole document."""
    pieces = draw(st.integers(1, 10**6))
    run = draw(
        st.sampled_from(
            [
                StraightRun(draw(lengths(1000.0, 5000.0)), pieces),
                CurvedRun(draw(sizes), draw(st.floats(0.1, 360.0)), pieces),
                TurnedRun(pieces),
            ]
        )
    )
    named: tuple[Setup, ...] = ()
    if isinstance(run, StraightRun):
        named = tuple(draw(st.lists(setups(), max_size=3, unique_by=lambda setup: setup.name)))
    names = ["face", *(setup.name for setup in named)]
    length = run.length if isinstance(run, StraightRun) else None
    return Stack(
        blank=draw(blanks()),
        run=run,
        title=draw(texts),
        units=draw(st.sampled_from(["mm", "in"])),
        tolerance=Tolerance(draw(lengths(0.0, 3.0)), draw(lengths(0.0, 3.0))),
        target=draw(st.none() | path_targets() | member_targets()),
        setups=named,
        passes=tuple(draw(st.lists(passes(names, length), max_size=4))),
        bits=tuple(draw(st.lists(bits(), max_size=3, unique_by=lambda bit: bit.id))),
    )
