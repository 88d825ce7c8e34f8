"""What is written from a stack's plan: steps, report, machine code."""

from __future__ import annotations

import re

from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.drawing.pages import pages_bytes
from profilestack.drawing.report.report import report_pages
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.wording import title_of
from profilestack.files.exports.machine_code import CodeWishes, code_bytes
from profilestack.files.exports.steps_csv import steps_csv
from profilestack.jobs.exports.order import ExportOrder, Made, Making
from profilestack.jobs.plan import is_good, plan_for
from profilestack.planning.plan import Plan
from profilestack.planning.toolpath.programs import Program, programs_of


def csv(order: ExportOrder) -> Making:
    """The plan's steps as a table."""
    plan = _plan(order)
    about = f"CSV in {order.units}, {len(plan.steps)} steps"
    return Making((Made(order.path, steps_csv(plan, order.units), about),), is_good(plan), plan)


def pdf(order: ExportOrder) -> Making:
    """The report."""
    paper = TemplateOptions(paper=order.paper).paper  # refused before the work
    plan = _plan(order)
    known = dict(order.bits) | {step.bit.id: step.bit for step in plan.steps}
    cut = cut_stack(plan.stack, known)
    pages = report_pages(cut, compare(cut), plan, order.units, paper)
    data = pages_bytes(pages, title_of(plan.stack))
    about = f"PDF, {len(pages)} pages {paper}"
    return Making((Made(order.path, data, about),), is_good(plan), plan)


def nc(order: ExportOrder) -> Making:
    """Machine code: one file, or one for each setup or bit; none where a caution says stop."""
    plan = _plan(order)
    if not is_good(plan):
        return Making((), False, plan, _why_refused(plan, order.units))
    programs = programs_of(plan, per_bit=order.per_bit, extra=order.extra)
    wishes = CodeWishes(order.units, order.zero, len(programs))
    made = []
    for program in programs:
        path = order.path
        if len(programs) > 1:
            path = path.with_name(f"{path.stem}-{_ending(program, order)}{path.suffix}")
        made.append(Made(path, code_bytes(program, plan, plan.cautions, wishes), _about(program)))
    return Making(tuple(made), True, plan)


def _plan(order: ExportOrder) -> Plan:
    return plan_for(order.stack, order.bits, order.shop, order.libraries)


def _ending(program: Program, order: ExportOrder) -> str:
    """What is put to a file's name: number, setup and bit; never a path, whatever they are."""
    words = [str(program.number), program.setup.name]
    if order.per_bit:
        words.append(program.bits[0].id)
    cleaned = (re.sub(r"[^a-z0-9]+", "-", word.lower()).strip("-")[:24] for word in words)
    return "-".join(word for word in cleaned if word)


def _why_refused(plan: Plan, units: str) -> str:
    """The cautions that stand against code, the gravest first."""
    stops = [caution for caution in plan.cautions if caution.severity == "stop"]
    if not stops:
        return "the section as cut breaks the stack's tolerance."
    told = dict.fromkeys(
        f"{f'pass {each.number}, ' if each.number else ''}{each.code}: {each.say(units)}"
        for each in stops
    )
    return f"a caution says stop. {' '.join(told)}"


def _about(program: Program) -> str:
    bits = ", ".join(bit.id for bit in program.bits)
    times = f", run {program.setup.copies} times" if program.setup.copies > 1 else ""
    return f"setup {program.setup.name}{times}, {len(program.stages)} steps with {bits}"
