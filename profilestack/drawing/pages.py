"""Drawings as the pages of a PDF at true scale, the same bytes every time.

Coordinates are written in points, to a thousandth or better; nothing is scaled by the file, and
viewers are asked not to scale it either (PrintScaling None).
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from profilestack.drawing.drawing import Drawing, Fill, Lines, Mark, Window, Words
from profilestack.drawing.fonts import POINT, face, plain
from profilestack.geometry.path import Points

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.pathobject import PDFPathObject


def pages_bytes(drawings: Sequence[Drawing], title: str = "") -> bytes:
    """A PDF of one page a drawing, each of the drawing's own size."""
    from reportlab.pdfgen.canvas import Canvas

    kept = io.BytesIO()
    canvas = Canvas(kept, invariant=1, pageCompression=1)
    canvas.setTitle(plain(title)[:200])
    canvas.setAuthor("")
    canvas.setSubject("")
    canvas.setCreator("profilestack")
    canvas.setViewerPreference("PrintScaling", "None")
    for drawing in drawings:
        canvas.setPageSize((drawing.width / POINT, drawing.height / POINT))
        _draw_page(canvas, drawing)
        canvas.showPage()
    canvas.save()
    return kept.getvalue()


def _draw_page(canvas: Canvas, drawing: Drawing) -> None:
    canvas.setLineJoin(1)
    if drawing.paper is not None:
        canvas.setFillColor(drawing.paper)
        size = (drawing.width / POINT, drawing.height / POINT)
        canvas.rect(0.0, 0.0, *size, stroke=0, fill=1)
    _draw_marks(canvas, drawing.marks)


def _draw_marks(canvas: Canvas, marks: Sequence[Mark]) -> None:
    for mark in marks:
        if isinstance(mark, Fill):
            canvas.setFillColor(mark.color)
            canvas.drawPath(_path(canvas, mark.rings, closed=True), stroke=0, fill=1)
        elif isinstance(mark, Lines):
            _draw_lines(canvas, mark)
        elif isinstance(mark, Window):
            _draw_window(canvas, mark)
        else:
            _draw_words(canvas, mark)


def _draw_window(canvas: Canvas, mark: Window) -> None:
    canvas.saveState()
    edge = canvas.beginPath()
    edge.rect(*(part / POINT for part in (*mark.at, mark.width, mark.height)))
    canvas.clipPath(edge, stroke=0, fill=0)
    _draw_marks(canvas, mark.marks)
    canvas.restoreState()


def _draw_lines(canvas: Canvas, mark: Lines) -> None:
    canvas.setStrokeColor(mark.pen.color)
    canvas.setLineWidth(mark.pen.width / POINT)
    canvas.setLineCap(0 if mark.pen.dash else 1)
    canvas.setDash([part / POINT for part in mark.pen.dash])
    canvas.drawPath(_path(canvas, mark.chains, mark.closed), stroke=1, fill=0)


def _draw_words(canvas: Canvas, mark: Words) -> None:
    canvas.setFillColor(mark.color)
    canvas.setFont(_font_name(mark.bold), mark.size)
    draw = {
        "start": canvas.drawString,
        "middle": canvas.drawCentredString,
        "end": canvas.drawRightString,
    }[mark.anchor]
    x, y = mark.at[0] / POINT, mark.at[1] / POINT
    if mark.angle == 0.0:
        draw(x, y, mark.text)
        return
    canvas.saveState()
    canvas.translate(x, y)
    canvas.rotate(mark.angle)
    draw(0.0, 0.0, mark.text)
    canvas.restoreState()


def _path(canvas: Canvas, chains: Sequence[Points], closed: bool) -> PDFPathObject:
    path = canvas.beginPath()
    for chain in chains:
        scaled = (chain / POINT).tolist()
        path.moveTo(*scaled[0])
        for x, y in scaled[1:]:
            path.lineTo(x, y)
        if closed:
            path.close()
    return path


@lru_cache(maxsize=2)
def _font_name(bold: bool) -> str:
    """The font's name, known to the PDF writer from now on."""
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    chosen = face(bold)
    registerFont(TTFont(chosen.name, str(chosen.file)))
    return chosen.name
