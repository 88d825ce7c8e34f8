"""Pictures that the tests of the readers draw."""

from __future__ import annotations

import io

import numpy as np
from PIL import Image, ImageDraw

from profilestack.geometry.path import Path

FINER = 8
"""So many times finer a picture is drawn before it is made smaller, as a scanner's light does."""

EDGE = 5.0
"""Of bare ground round the profile [mm]."""

SIZE = (81.28, 55.88)
"""Of the sheet [mm]: whole pixels at 100, 200, 300 ... dots per inch."""


def picture(
    path: Path,
    dots: int = 300,
    *,
    line: float = 0.0,
    dark: int = 40,
    light: int = 255,
    grain: float = 0.0,
) -> Image.Image:
    """A closed path filled, or a path drawn as a ``line`` [mm] wide; x and z from the corner."""
    scale = dots / 25.4 * FINER
    width, height = (round(side * dots / 25.4) for side in SIZE)
    sheet = Image.new("L", (width * FINER, height * FINER), light)
    pen = ImageDraw.Draw(sheet)
    # the drawing library's pixels are points: half a fine pixel is what is left of its error
    points = [
        ((x + EDGE) * scale - 0.5, (SIZE[1] - EDGE - z) * scale - 0.5)
        for x, z in path.flatten(1e-3).tolist()
    ]
    if line:
        pen.line(points, fill=dark, width=round(line * scale), joint="curve")
    else:
        pen.polygon(points, fill=dark)
    small = sheet.resize((width, height), Image.Resampling.BOX)
    if not grain:
        return small
    tones = np.asarray(small) + np.random.default_rng(1).normal(0.0, grain, (height, width))
    return Image.fromarray(np.clip(tones, 0.0, 255.0).astype(np.uint8))


def encoded(image: Image.Image, kind: str = "PNG", **more: object) -> bytes:
    kept = io.BytesIO()
    image.save(kept, kind, **more)
    return kept.getvalue()
