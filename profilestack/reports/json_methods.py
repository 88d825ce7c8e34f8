"""The answer of ``methods`` as JSON: mm, mm/min, minutes, money of the shop. Keys stay."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from profilestack.jobs.methods import MethodsReport
from profilestack.planning.methods import Method
from profilestack.planning.minutes import length_of_travel
from profilestack.planning.work import break_even
from profilestack.reports.json_report import json_text


def methods_json(report: MethodsReport) -> str:
    """The ways as JSON text."""
    return json_text(methods_answer(report))


def methods_answer(report: MethodsReport) -> dict[str, Any]:
    """The ways as tables and lists.

    ``minutes`` are for all pieces, sanding with them; ``ball_nose_to_stacked`` counts machine
    minutes (changes, setups, cutting) for all pieces; ``ratios`` has the other meanings.
    """
    ratios = report.ratios
    stack = report.stack
    return {
        "format": "profilestack-methods/1",
        "pieces": stack.run.pieces,
        "length": length_of_travel(stack),
        "rate": report.methods.plan.shop.rate,
        "methods": [_method(report, method) for method in report.methods.methods],
        "ball_nose_to_stacked": None if ratios is None else ratios.batch,
        "ratios": None
        if ratios is None
        else {
            "batch": ratios.batch,
            "one": ratios.one,
            "cutting": ratios.cutting,
            "finishing": ratios.finishing,
            "rows_of_half_mm": ratios.fine,
            "sensitivity": [
                {
                    "what": moved.words,
                    "low": moved.low,
                    "low_ratio": moved.low_ratio,
                    "high": moved.high,
                    "high_ratio": moved.high_ratio,
                }
                for moved in ratios.moved
            ],
        },
        "break_even": _break_evens(report),
    }


def _method(report: MethodsReport, method: Method) -> dict[str, Any]:
    plan = report.methods.plan
    stack, shop, pieces = report.stack, plan.shop, report.stack.run.pieces
    if not method.is_possible:
        return {"name": method.name, "possible": False, "why_not": method.trouble,
                "minutes": None, "ridge_max": None, "price": None}  # fmt: skip
    metres = length_of_travel(stack) / 1000.0
    batch, one = (method.work.parts(stack, shop, count) for count in (pieces, 1))
    costs = {count: method.work.cost(stack, shop, count) for count in (1, pieces)}
    answer: dict[str, Any] = {
        "name": method.name,
        "possible": True,
        "minutes": batch.total,
        "machine_minutes": batch.machine,
        "minutes_by": asdict(batch),
        "ridge_max": method.ridge_max,
        "price": method.work.price,
        "wait_days": method.wait,
        "cost": costs[pieces],
        "cost_per_metre": costs[pieces] / (pieces * metres),
        "one_piece": {
            "minutes": one.total,
            "machine_minutes": one.machine,
            "minutes_by": asdict(one),
            "cost": costs[1],
            "cost_per_metre": costs[1] / metres,
        },
    }
    return answer | _own(method)


def _own(method: Method) -> dict[str, Any]:
    """What only this way has: its ball and rows, its roughing, its cutter."""
    answer: dict[str, Any] = {}
    if (ball := method.ball) is not None:
        answer |= {
            "ball": ball.ball.id,
            "ball_radius": ball.radius,
            "cusp": ball.cusp,
            "developed_length": ball.developed,
            "rows": ball.rows,
            "step": ball.step,
            "feed": ball.speed.feed,
            "row_minutes": ball.minutes,
            "corners_left_aside": ball.left_aside,
            "corner_distance": ball.corner,
            "too_narrow": ball.narrow,
        }
    if (roughing := method.roughing) is not None:
        answer["roughing"] = {
            "bit": roughing.bit.id, "travels": roughing.travels, "levels": roughing.levels,
            "feed": roughing.speed.feed, "minutes": roughing.minutes,
        }  # fmt: skip
    if (cutter := method.cutter) is not None:
        answer |= {
            "diameter": cutter.diameter,
            "edge": cutter.edge,
            "blank_on_edge": cutter.on_edge,
            "largest_diameter": cutter.largest,
            "steps": cutter.steps,
            "power": cutter.power,
        }
    return answer


def _break_evens(report: MethodsReport) -> list[dict[str, Any]]:
    """From which length each way costs less than each other; null: never."""
    shop = report.methods.plan.shop
    able = [method for method in report.methods.methods if method.is_possible]
    return [
        {
            "from": first.name,
            "to": second.name,
            "length": break_even(first.work, second.work, report.stack, shop),
        }
        for first in able
        for second in able
        if first is not second
    ]
