"""The job of planning a stack for a shop's machine."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence

from profilestack.bits.bit import Bit
from profilestack.files.shipped import read_bits, read_drawer
from profilestack.files.shop_file import read_shop
from profilestack.planning.plan import Plan
from profilestack.planning.planner import plan_stack
from profilestack.planning.shop import USUAL_SHOP, Shop
from profilestack.stack import Stack


def shop_of(path: str | os.PathLike[str] | None) -> Shop:
    """The shop of a file, or the usual small one.

    Raises:
        FileError: the file cannot be read.
        InputError: every problem of the file.
    """
    return USUAL_SHOP if path is None else read_shop(path)


def plan_for(
    stack: Stack,
    bits: Mapping[str, Bit],
    shop: Shop = USUAL_SHOP,
    libraries: Sequence[str] = (),
) -> Plan:
    """Plan a stack; bits that rough out come from the given libraries, else from the drawer.

    Raises:
        FileError: a library that cannot be read.
        InputError: what cannot be planned on this machine, with the nearest that can.
    """
    if libraries:
        offered = tuple(bit for name in libraries for bit in read_bits(name).bits)
    else:
        offered = read_drawer().bits
    return plan_stack(stack, bits, shop, offered)


def is_good(plan: Plan) -> bool:
    """Whether no caution says stop and every tolerance holds."""
    codes = {caution.code for caution in plan.cautions}
    stopped = any(caution.severity == "stop" for caution in plan.cautions)
    return not stopped and "leftover" not in codes
