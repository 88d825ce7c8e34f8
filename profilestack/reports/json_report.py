"""The answer of ``cut`` as JSON: mm, mm2, mm3. Keys are never renamed."""

from __future__ import annotations

import json
from typing import Any

from profilestack.cutting.comparison import Comparison
from profilestack.geometry.region import rings_of
from profilestack.jobs.cut import CutReport
from profilestack.jobs.spread import Spread
from profilestack.reports.json_spread import spread_answer


def cut_json(report: CutReport, spread: Spread | None = None) -> str:
    """The report as JSON text."""
    return json_text(cut_answer(report, spread))


def json_text(answer: dict[str, Any]) -> str:
    """An answer as JSON text: ASCII, no nan, no infinity."""
    return json.dumps(answer, allow_nan=False)


def cut_answer(report: CutReport, spread: Spread | None = None) -> dict[str, Any]:
    """The report as tables and lists."""
    cut = report.cut
    section = cut.section
    answer: dict[str, Any] = {
        "format": "profilestack-cut/1",
        "blank": {"area": cut.blank.area},
        "passes": [
            {
                "number": single.number,
                "bit": single.bit.id,
                "setup": single.cut.setup,
                "offset": single.cut.offset,
                "depth": single.cut.depth,
                "removed_area": single.removed_area,
                "removed_volume": single.removed_volume,
            }
            for single in cut.passes
        ],
        "section": {
            "area": section.area,
            "volume": cut.volume,
            "rings": [ring.tolist() for ring in rings_of(section)],
        },
        "comparison": None if report.comparison is None else _comparison(report.comparison),
        "cautions": [
            {
                "code": caution.code,
                "severity": caution.severity,
                "pass": caution.number,
                "text": caution.text,
            }
            for caution in report.cautions
        ],
    }
    if spread is not None:
        answer["spread"] = spread_answer(spread)
    return answer


def _comparison(comparison: Comparison) -> dict[str, Any]:
    leftover, overcut = comparison.leftover, comparison.overcut
    return {
        "leftover": {
            "max": leftover.max,
            "rms": leftover.rms,
            "area": leftover.area,
            "volume": leftover.volume,
        },
        "overcut": {
            "max": overcut.max,
            "rms": overcut.rms,
            "area": overcut.area,
            "volume": overcut.volume,
            "missing_max": comparison.missing_max,
        },
        "unreached_max": comparison.unreached_max,
        "ridges": [
            {
                "at": list(ridge.at),
                "height": ridge.height,
                "width": ridge.width,
                "between": list(ridge.between),
            }
            for ridge in comparison.ridges
        ],
    }
