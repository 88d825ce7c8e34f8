"""What a measured test cut tells, as JSON: mm and degrees."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from profilestack.jobs.measure import Measured
from profilestack.planning.check_dimensions import CheckDimension
from profilestack.reports.json_report import json_text


def measure_json(found: Measured) -> str:
    """The explanation as JSON text."""
    explained = found.explanation
    answer: dict[str, Any] = {
        "format": "profilestack-measure/1",
        "points": len(explained.points),
        "rms_before": explained.before,
        "rms_after": explained.after,
        "true_to": explained.noise,
        "lay": None if explained.lay is None else list(explained.lay),
        "found": [
            {
                "kind": each.source.kind,
                "passes": list(each.source.numbers),
                "bit": each.source.bit,
                "setup": each.source.setup,
                "error": each.error,
                "sigma": each.sigma,
                "usual": each.usual,
                "told": each.seen,
            }
            for each in explained.found
        ],
        "cannot_tell_apart": [
            [explained.found[k].source.words for k in group] for group in explained.mixed
        ],
        "outlying": [
            {"at": explained.points[k].tolist(), "distance": float(explained.distances[k])}
            for k in explained.outlying
        ],
        "corrected": [
            {"number": place + 1, "bit": single.bit, "setup": single.setup,
             "offset": single.offset, "depth": single.depth}
            for place, single in enumerate(found.corrected.passes)
            if single.on
        ],
        "checks": [asdict(check) | {"measured": reading} for check, reading in found.checks],
    }  # fmt: skip
    return json_text(answer)


def checks_json(checks: Sequence[CheckDimension]) -> str:
    """The check dimensions as JSON text."""
    answer = {"format": "profilestack-checks/1", "checks": [asdict(check) for check in checks]}
    return json_text(answer)
