"""Exports for other programs and machines: one function a kind of file, one line each."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ExportKind:
    """A kind of file: what it holds, and the ``module:function`` that makes it.

    ``planned``: it is made from the plan and asks for a shop.
    """

    about: str
    maker: str
    planned: bool


EXPORTS: dict[str, ExportKind] = {
    ".dxf": ExportKind("drawing: wanted profile, section, axes in plan", "drawings:dxf", False),
    ".svg": ExportKind("drawing: wanted profile, section, axes in plan", "drawings:svg", False),
    ".csv": ExportKind("table of the plan's steps", "planned:csv", True),
    ".pdf": ExportKind("report with picture, steps, minutes, cautions", "planned:pdf", True),
    ".nc": ExportKind("machine code in RS-274 words", "planned:nc", True),
}
"""What is written for which ending; the libraries load only when they are used."""
