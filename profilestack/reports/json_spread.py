"""What ``cut --spread`` tells, for machines: mm, degrees, shares from 0 to 1."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from profilestack.jobs.spread import Spread


def spread_answer(spread: Spread) -> dict[str, Any]:
    """The spread as tables and lists."""
    return {
        "cuts": spread.cuts,
        "leftover": _side(spread.leftover, spread.leftover_at),
        "overcut": _side(spread.overcut, spread.overcut_at),
        "within": spread.within,
        "standing": spread.standing,
        "errors": asdict(spread.errors),
        "passes": [
            {"pass": blame.number, "leftover": blame.leftover, "overcut": blame.overcut}
            for blame in spread.blames
        ],
        "sources": [
            {
                "kind": share.source.kind,
                "bit": share.source.bit,
                "setup": share.source.setup,
                "passes": list(share.source.numbers),
                "leftover": share.leftover,
                "overcut": share.overcut,
            }
            for share in spread.shares
        ],
        "band": {
            "places": spread.places.tolist(),
            "low": spread.low.tolist(),
            "middle": spread.middle.tolist(),
            "high": spread.high.tolist(),
        },
    }


def _side(values: tuple[float, float], at: tuple[float, float] | None) -> dict[str, Any]:
    median, most = values
    return {"median": median, "most": most, "at": None if at is None else list(at)}
