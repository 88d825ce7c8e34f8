"""The answer of ``find`` as JSON: mm and minutes. Keys are never renamed."""

from __future__ import annotations

import json

from profilestack.finding.adapting.adaptation import Adaptation
from profilestack.finding.needs import Needs
from profilestack.finding.options import Option
from profilestack.jobs.find import FindResult


def find_json(result: FindResult) -> str:
    """The result as JSON text."""
    answer = {
        "format": "profilestack-find/1",
        "options": [_option(option) for option in result.options],
        "unreached": [
            {
                "from": list(stretch.begin),
                "to": list(stretch.end),
                "leftover": stretch.leftover,
                "why": stretch.why,
            }
            for stretch in result.unreached
        ],
        "buy": [{"bit": each.bit.id, "gain": each.gain} for each in result.buy],
        "needs": _needs(result.needs),
        "seconds": result.seconds,
        **_adaptation(result.adaptation),
    }
    return json.dumps(answer, allow_nan=False)


def _needs(needs: Needs | None) -> dict[str, int] | None:
    """What limits that left no way would have to allow at least."""
    return None if needs is None else {"passes": needs.passes, "bits": needs.bits}


def _adaptation(adaptation: Adaptation | None) -> dict[str, object]:
    """How the target was fitted; both lists are empty where that was not asked for."""
    changes = () if adaptation is None else adaptation.changes
    unfitted = () if adaptation is None else adaptation.unfitted
    return {
        "adapted": [
            {
                "member": change.number,
                "name": change.name,
                "key": change.key,
                "drawn": change.drawn,
                "fitted": change.fitted,
                "bit": change.bit,
                "slack_of": list(change.slack_of),
            }
            for change in changes
        ],
        "unfitted": [
            {"member": each.number, "name": each.name, "why": each.say("mm")} for each in unfitted
        ],
    }


def _option(option: Option) -> dict[str, object]:
    assembled = option.assembled
    comparison = assembled.comparison
    return {
        "objective": option.objective,
        "also": [name for name in option.best if name != option.objective],
        "bits": list(assembled.bit_ids),
        "passes": [
            {
                "bit": single.bit,
                "setup": single.setup,
                "offset": single.offset,
                "depth": single.depth,
                "relief": single.relief,
            }
            for single in assembled.stack.passes
        ],
        "leftover_max": comparison.leftover.max,
        "overcut_max": comparison.overcut.max,
        "unreached_max": comparison.unreached_max,
        "minutes": assembled.minutes.total,
        "cost": option.cost,
        "bound": option.bound,
        "proved": option.proved,
    }
