"""``profilestack plan``: relief, order, steps, speeds, feeds, minutes."""

from __future__ import annotations

import argparse

from profilestack.cli import options

HELP = "plan a stack for your machine: order, depths, speeds, feeds, minutes"
ABOUT = (
    "Plans how a stack is cut on a shop's machine: what is roughed out first, in which order and "
    "in how many depths, at which speed and feed, in how many minutes, and why. Without a shop "
    "file the figures of a usual small shop are taken: assumptions, to be edited. Ends with 1 when "
    "a tolerance is broken or a caution says stop."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    options.add_stack(parser)
    options.add_shop(parser)
    options.add_json(parser)
    options.add_units(parser)
    parser.add_argument(
        "--assumptions", action="store_true",
        help="list every figure of the shop, and where it comes from",
    )  # fmt: skip


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.jobs.plan import is_good, plan_for, shop_of

    options.refuse_picture(call.output, "a name for text")
    options.refuse_outputs(call, "output")
    shop = shop_of(call.shop)
    stack, bits = options.open_stack(call)
    plan = plan_for(stack, bits, shop, call.bits)
    if call.json:
        from profilestack.reports.json_plan import plan_json

        text = plan_json(plan)
    else:
        from profilestack.reports.text_plan import plan_text

        text = plan_text(plan, call.units or stack.units, call.assumptions)
    options.deliver(text, call.output)
    return 0 if is_good(plan) else 1
