"""Random bits, boards and stacks, always the same ones for the same seed; lengths in mm."""

from __future__ import annotations

import random
from dataclasses import replace

from profilestack.bits.bit import Bit
from profilestack.bits.edge import largest_radius
from profilestack.bits.shapes import (
    Bullnose,
    CoreBox,
    Cove,
    Dovetail,
    Ogee,
    Outline,
    ReverseOgee,
    Roundover,
    Straight,
    TaperBall,
    VGroove,
)
from profilestack.bits.shapes.base import BitShape
from profilestack.geometry.path import Path
from profilestack.stack import (
    Blank,
    OutlineStock,
    Pass,
    PathTarget,
    Rectangle,
    Round,
    Setup,
    Stack,
    StraightRun,
)


def random_shapes(chance: random.Random) -> list[BitShape]:
    """One of every bit shape."""
    r, q = chance.uniform(2.0, 9.0), chance.uniform(2.0, 6.0)
    tip = chance.choice((0.0, 0.5, 3.175))
    drawn = Path((0.0, 0.0)).line((r, 1.0)).arc((r + q, 1.0 + q), (r, 1.0 + q), "ccw")
    return [
        Straight(2.0 * r),
        CoreBox(2.0 * r),
        VGroove(2.0 * r + 4.0, chance.uniform(40.0, 130.0), tip),
        Cove(r, tip),
        Roundover(r, tip),
        Ogee(r, q, tip),
        ReverseOgee(r, q, tip),
        Bullnose(r, tip + 4.0),
        Dovetail(10.0 + 2.0 * r, chance.uniform(5.0, 15.0)),
        TaperBall(q / 2.0, chance.uniform(2.0, 10.0), q + 6.0),
        Outline(drawn.line((r + 1.0, 4.0 + q)).line((r + 2.0, 9.0 + q))),
    ]


def random_bits(chance: random.Random) -> list[Bit]:
    """One bit of every shape, some of them worn."""
    bits = []
    for shape in random_shapes(chance):
        edge = chance.uniform(6.0, 20.0)
        new = Bit(id=shape.word, shape=shape, cutting_length=edge, shank=6.35, length=edge + 60.0)
        if chance.random() < 0.3:
            new = replace(new, measured=2.0 * largest_radius(new) - chance.uniform(0.02, 0.15))
        bits.append(new)
    return bits


def random_blank(chance: random.Random) -> Blank:
    kind = chance.choice(("board", "board", "round", "outline"))
    if kind == "board":
        return Blank(Rectangle(chance.uniform(30.0, 90.0), chance.uniform(15.0, 60.0)))
    if kind == "round":
        return Blank(Round(chance.uniform(30.0, 70.0)))
    w, t, r = chance.uniform(40.0, 80.0), chance.uniform(30.0, 50.0), chance.uniform(5.0, 20.0)
    path = Path((0.0, 0.0)).line((w, 0.0)).line((w, t - r))
    path = path.arc((w - r, t), (w - r, t - r), "ccw").line((r, t)).line((0.0, t / 2.0))
    return Blank(OutlineStock(path.line((0.0, 0.0))))


def random_stack(seed: int) -> tuple[Stack, dict[str, Bit]]:
    """A stack of 1 to 8 passes with turned setups, copies and repeats; no target."""
    chance = random.Random(seed)
    blank = random_blank(chance)
    bits = {bit.id: bit for bit in random_bits(chance)}
    setups = (
        Setup("edge", 90.0),
        Setup("back", 180.0),
        Setup("tipped", chance.uniform(-80.0, 80.0)),
        Setup("around", chance.choice((0.0, 15.0)), chance.choice((3, 5, 8))),
    )
    names = ("face", "face", "face", *(setup.name for setup in setups))
    passes = []
    for _ in range(chance.randint(1, 8)):
        repeats = chance.choice((1, 1, 1, 3))
        passes.append(
            Pass(
                chance.choice(sorted(bits)), chance.uniform(-5.0, 80.0), chance.uniform(1.0, 25.0),
                chance.choice(names), repeats, chance.uniform(3.0, 15.0) if repeats > 1 else 0.0,
            )
        )  # fmt: skip
    run = StraightRun(chance.uniform(100.0, 3000.0))
    return Stack(blank=blank, run=run, setups=setups, passes=tuple(passes)), bits


def random_target(chance: random.Random, width: float, thickness: float) -> Path:
    """A face from the left side to the right side: flats, steps, slopes, hollows and rounds.

    It stays between 4 mm above the bed and 1 mm below the face; the wood is below.
    """
    low, high = 4.0, thickness - 1.0
    x, z = 0.0, chance.uniform(low + 3.0, high)
    path = Path((x, z))
    while x < width - 8.0:
        kind = chance.choice(("flat", "step", "slope", "hollow", "round", "bead"))
        size = min(chance.uniform(1.5, 9.0), (width - x) / 2.0 - 1.0)
        if kind == "flat":
            x += size
            path = path.line((x, z))
            continue
        if kind == "bead":
            room = min(size, high - z)
            if room > 0.5:
                path = path.arc((x + 2.0 * room, z), (x + room, z), "cw")
                x += 2.0 * room
            continue
        down = chance.random() < 0.5
        size = min(size, (z - low) if down else (high - z))
        if size < 0.5:
            continue
        to = z - size if down else z + size
        if kind == "step":
            if path.steps and path.steps[-1].to[0] == x and len(path.steps) > 1:
                continue  # no step on a step: it could go back over itself
            path = path.line((x, to)).line((x + 0.5, to))
            x += 0.5
        elif kind == "slope":
            x += size * chance.uniform(0.3, 2.0) if x + 2.0 * size < width - 1.0 else size
            path = path.line((x, to))
        else:
            upright_first = chance.random() < 0.5
            center = (x + size, z) if upright_first else (x, to)
            # upright first and downward is a hollow, level first and downward a round
            turn = "ccw" if upright_first == down else "cw"
            path = path.arc((x + size, to), center, turn)
            x += size
        z = to
    return path.line((width, z))


def random_fitted_stack(seed: int) -> tuple[Stack, dict[str, Bit]]:
    """A board with a target, and passes that come down to about it: some proud, some gouging."""
    chance = random.Random(seed)
    width, thickness = chance.uniform(40.0, 80.0), chance.uniform(25.0, 50.0)
    path = random_target(chance, width, thickness)
    bits = {bit.id: bit for bit in random_bits(chance)}
    points = path.flatten(0.01)
    passes = []
    for _ in range(chance.randint(4, 12)):
        bit = bits[chance.choice(sorted(bits))]
        offset = chance.uniform(0.0, width)
        beside = points[abs(points[:, 0] - offset) < largest_radius(bit) * chance.uniform(0.3, 1.0)]
        floor = float(beside[:, 1].max()) if len(beside) else thickness - 3.0
        depth = thickness - floor + chance.choice((-0.5, 0.0, 0.0, 0.3))
        if depth > 0.1:
            passes.append(Pass(bit.id, offset, depth))
    passes.append(Pass("straight", width / 3.0, 1.0))  # something is always removed
    stack = Stack(
        blank=Blank(Rectangle(width, thickness)),
        run=StraightRun(1000.0),
        target=PathTarget(path),
        passes=tuple(passes),
    )
    return stack, bits
