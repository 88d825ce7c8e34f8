"""Cut stacks that the drawings are tested on; lengths in mm."""

from __future__ import annotations

from functools import lru_cache

from profilestack.bits.bit import Bit
from profilestack.cutting.caution import Caution
from profilestack.cutting.comparison import Comparison, compare
from profilestack.cutting.cut import Cut, cut_stack
from profilestack.geometry.path import Path
from profilestack.stack import (
    Blank,
    Pass,
    PathTarget,
    Rectangle,
    Round,
    Setup,
    Stack,
    StraightRun,
    TurnedRun,
)
from tests.shop import INCH, core_box, roundover, straight, vee

BITS: dict[str, Bit] = {
    bit.id: bit
    for bit in (
        core_box(12.7),
        core_box(INCH),
        straight(6.35),
        straight(12.7),
        straight(19.05),
        roundover(12.7, 3.2),
        roundover(20.0, 3.0),
        vee(31.75, 90.0, 0.5),
    )
}

STOP = Caution("shank-rubs", "stop", 2, "the shank rubs the wall by 0.4 mm; use a longer bit")
CAUTIONS = (
    STOP,
    Caution("too-deep", "warn", 1, "20 mm in one step; take it in two depths"),
    Caution("cuts-nothing", "note", 2, "cuts nothing at nominal size"),
)

Example = tuple[Cut, Comparison | None]


@lru_cache(maxsize=32)
def example(name: str) -> Example:
    """A cut and its comparison, by name."""
    cut = cut_stack(EXAMPLES[name](), BITS)
    return cut, compare(cut)


def crown(title: str = "Bookcase crown") -> Stack:
    path = Path((0.0, 45.0)).line((10.0, 45.0))
    path = path.arc((30.0, 25.0), (10.0, 25.0), "cw").line((62.0, 25.0))
    return Stack(
        Blank(Rectangle(62.0, 45.0), "yellow-poplar"),
        StraightRun(2400.0, 10),
        title,
        target=PathTarget(path),
        passes=(
            Pass("straight 19.05", 41.2, 20.0),
            Pass("straight 19.05", 55.0, 20.0, relief=True),
            Pass("roundover 20", 31.5, 20.05),
        ),
    )


def base() -> Stack:
    """Wide and low, with lanes, leftover and overcut."""
    path = Path((0.0, 20.0)).line((6.0, 20.0)).arc((14.0, 12.0), (14.0, 20.0), "ccw")
    path = path.line((240.0, 12.0)).line((243.0, 9.0)).line((246.0, 12.0)).line((280.0, 12.0))
    path = path.arc((292.0, 0.0), (280.0, 0.0), "cw")
    return Stack(
        Blank(Rectangle(300.0, 20.0)),
        StraightRun(3000.0),
        "Wide base",
        target=PathTarget(path),
        passes=(
            Pass("core-box 25.4", 19.0, 8.0),
            Pass("straight 19.05", 24.0, 8.0, count=14, pitch=17.0),
            Pass("vee 90", 243.0, 11.0),
            Pass("roundover 12.7", 294.0, 19.5),
        ),
    )


def column() -> Stack:
    """Round, 16 flutes, nothing wanted."""
    return Stack(
        Blank(Round(76.0)),
        StraightRun(900.0),
        "Half column",
        setups=(Setup("around", 11.25, 16),),
        passes=(Pass("core-box 12.7", 38.0, 2.2, setup="around"),),
    )


def tipped() -> Stack:
    """Three setups in one section."""
    path = Path((0.0, 20.0)).line((8.0, 20.0)).line((20.0, 8.0)).line((84.0, 8.0))
    return Stack(
        Blank(Rectangle(84.0, 20.0)),
        StraightRun(2400.0),
        "Tipped strip",
        setups=(Setup("tip", 45.0), Setup("edge", 90.0)),
        target=PathTarget(path),
        passes=(
            Pass("straight 19.05", 28.0, 12.0),
            Pass("straight 19.05", 45.0, 12.0),
            Pass("straight 19.05", 62.0, 12.0),
            Pass("straight 12.7", 64.0, 17.0, setup="tip"),
            Pass("straight 6.35", 10.0, 5.0, setup="edge"),
        ),
    )


def tall() -> Stack:
    """High and narrow, in inches, cut on edge."""
    path = Path((0.0, 200.0)).line((5.0, 200.0)).arc((15.0, 190.0), (5.0, 190.0), "cw")
    path = path.line((15.0, 60.0)).arc((35.0, 40.0), (35.0, 60.0), "ccw").line((40.0, 40.0))
    return Stack(
        Blank(Rectangle(40.0, 200.0)),
        StraightRun(600.0),
        "Tall apron edge",
        units="in",
        setups=(Setup("edge", 90.0),),
        target=PathTarget(path),
        passes=(
            Pass("straight 19.05", 150.0, 25.0, setup="edge", count=6, pitch=-17.0),
            Pass("core-box 25.4", 56.0, 24.0, setup="edge"),
            Pass("roundover 12.7", 16.0, 12.0),
        ),
    )


def stairs() -> Stack:
    """Twelve passes, one number beside the other."""
    path = Path((0.0, 40.0)).line((6.0, 40.0))
    for step in range(12):
        x, z = 6.0 + 6.0 * step, 38.0 - 2.0 * step
        path = path.line((x, z)).line((x + 6.0, z))
    path = path.line((90.0, 16.0)).line((90.0, 40.0))
    passes = tuple(Pass("straight 6.35", 9.0 + 6.0 * step, 2.0 + 2.0 * step) for step in range(12))
    return Stack(
        Blank(Rectangle(90.0, 40.0)), StraightRun(1000.0), target=PathTarget(path), passes=passes
    )


def turned() -> Stack:
    return Stack(
        Blank(Rectangle(80.0, 38.0)),
        TurnedRun(),
        "Finial",
        passes=(Pass("core-box 25.4", 33.0, 18.0), Pass("straight 19.05", 60.0, 17.0)),
    )


EXAMPLES = {
    "crown": crown,
    "base": base,
    "column": column,
    "tipped": tipped,
    "tall": tall,
    "stairs": stairs,
    "turned": turned,
}
