"""What is said of a full-size section that was written."""

from __future__ import annotations

from profilestack.jobs.template import WrittenTemplate
from profilestack.reports.json_report import json_text
from profilestack.units import format_length


def template_text(written: WrittenTemplate, units: str) -> str:
    """As a person reads it; ``units`` are "mm" or "in"."""
    size = " x ".join(format_length(side, units) for side in (written.width, written.height))
    sheets = f"{written.sheets} sheet{'s' if written.sheets != 1 else ''}"
    return (
        f"{written.path}: {sheets} {written.paper} ({size})\n"
        "Print at 100 %, measure the bars on each sheet, and test in scrap."
    )


def template_json(written: WrittenTemplate) -> str:
    """As JSON, lengths in mm."""
    return json_text(
        {
            "format": "profilestack-template/1",
            "file": str(written.path),
            "sheets": written.sheets,
            "paper": written.paper,
            "width": written.width,
            "height": written.height,
        }
    )
