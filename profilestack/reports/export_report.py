"""What is said of files that were written for other programs."""

from __future__ import annotations

from profilestack.jobs.export import Exported
from profilestack.reports.json_report import json_text
from profilestack.reports.layout import paragraph


def code_said(extra: str) -> str:
    """What is to be minded of machine code; ``extra`` is how wood beyond the ends is asked for."""
    return (
        "Bits go down straight beside the ends of the wood that the code's head tells: where yours "
        f"is longer, export anew with {extra}. Look at every move on the control's screen, then "
        "cut air, then scrap. The marks on your bits, your machine's manual, local rules and a "
        "qualified operator come first."
    )


def export_text(done: Exported) -> str:
    """As a person reads it."""
    if done.refused:
        more = "profilestack cut and profilestack plan say more."
        return "\n".join(paragraph(f"No machine code was written: {done.refused} {more}"))
    lines = [f"{each.path}: {each.about}" for each in done.files]
    if any(each.path.suffix.lower() == ".nc" for each in done.files):
        lines += paragraph(code_said("--extra"))
    return "\n".join(lines)


def export_json(done: Exported) -> str:
    """As JSON; sizes in bytes."""
    return json_text(
        {
            "format": "profilestack-export/1",
            "files": [
                {"file": str(each.path), "about": each.about, "bytes": each.size}
                for each in done.files
            ],
            "refused": done.refused or None,
        }
    )
