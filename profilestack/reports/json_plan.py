"""The answer of ``plan`` as JSON: mm, mm2, mm/min, W, minutes. Keys are never renamed."""

from __future__ import annotations

from typing import Any

from profilestack.planning.figures import figures_of, source_of
from profilestack.planning.plan import Plan, PlanMinutes, Step
from profilestack.reports.json_report import json_text


def plan_json(plan: Plan) -> str:
    """The plan as JSON text."""
    return json_text(plan_answer(plan))


def plan_answer(plan: Plan) -> dict[str, Any]:
    """The plan as tables and lists.

    ``pass`` counts the passes in the planned order, ``document_pass`` is the place in the
    document (null where the plan added the pass); minutes are for all pieces.
    """
    return {
        "format": "profilestack-plan/1",
        "steps": [_step(step) for step in plan.steps],
        "minutes": plan.minutes.total,
        "minutes_by": _minutes(plan.minutes),
        "plain_minutes": None if plan.plain is None else plan.plain.total,
        "plain_trouble": plan.plain_trouble,
        "through": plan.through,
        "other_way_minutes": plan.other_way,
        "orders": plan.orders,
        "proved": plan.proved,
        "rests": [{"before_step": rest.before_step, "share": rest.share} for rest in plan.rests],
        "decided": [sentence.text for sentence in plan.sentences],
        "cautions": [
            {
                "code": caution.code,
                "severity": caution.severity,
                "pass": caution.number,
                "text": caution.text,
            }
            for caution in plan.cautions
        ],
        "assumptions": {
            "species": {
                "word": plan.species.word,
                "density": plan.species.density,
                "force": plan.shop.force_in(plan.species),
                "source": source_of(plan.species),
            },
            "figures": [
                {
                    "table": shown.figure.table,
                    "key": shown.figure.key,
                    "value": list(shown.value) if isinstance(shown.value, tuple) else shown.value,
                    "source": shown.source,
                }
                for shown in figures_of(plan.shop)
            ],
        },
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "pass": step.pass_number,
        "document_pass": step.document_pass,
        "bit": step.bit.id,
        "setup": step.setup,
        "offset": step.offset,
        "depth": step.depth,
        "depths": list(step.depths),
        "relief": step.relief,
        "finishing": step.finishing,
        "rpm": step.rpm,
        "feed": step.feed,
        "feed_per_tooth": step.tooth,
        "travels": step.travels,
        "removed_area": step.removed_area,
        "removed_volume": step.removed_volume,
        "section": step.section,
        "chip": step.chip,
        "power": step.power,
        "power_available": step.power_there,
        "minutes": step.minutes,
        "way": step.way,
        "from_left": step.from_left,
        "why": step.why,
        "why_speed": step.speed_why,
    }


def _minutes(minutes: PlanMinutes) -> dict[str, float]:
    return {
        "changes": minutes.changes,
        "setups": minutes.setups,
        "cutting": minutes.cutting,
        "sanding": minutes.sanding,
    }
