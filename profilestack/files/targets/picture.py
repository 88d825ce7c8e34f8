"""Profiles from pictures: a scan or photograph of a cut end, a scan of a gauge tracing.

The tones are parted into dark and light, and the line between them is followed to a fraction of a
pixel. Of a drawn line, whose two edges are found so, the middle is taken.
"""

from __future__ import annotations

import math
from io import BytesIO
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from profilestack.errors import InputError, Problem
from profilestack.files.targets.picture_line import middle_of_line
from profilestack.files.targets.picture_scale import scale_by_points
from profilestack.files.targets.wishes import MOST_NUMBERS, PictureWishes, ReadingWishes
from profilestack.geometry.path import Points
from profilestack.geometry.polyline import places_along
from profilestack.targets.tracing import Chain, Curve, Tracing
from profilestack.units import MILLIMETRES

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS = 40_000_000
"""A larger picture is refused before it is unpacked: A4 at 600 dpi has 35 million."""

MOST_CROSSINGS = 500_000
"""A picture that goes from dark to light more often is all grain."""

LEAST_CONTRAST = 24.0
"""The tones of wood and ground must differ by this, of 255."""

UNSAID_DPI = (72.0, 96.0)
"""What programs write into a picture when they do not know its scale."""

TOLERANCES = (0.05, 1.2)
"""An outline is fitted within at least so many mm and at least so many pixels."""

Tones = npt.NDArray[np.float32]

_INCH = float(MILLIMETRES["in"])
_FORMATS = ("PNG", "JPEG", "BMP", "TIFF")


def read_picture(data: bytes, wishes: ReadingWishes) -> Tracing:
    """The longest outline of a picture [mm], z upward.

    Raises:
        InputError: no picture, too large, cut off, of one tone, or without a scale.
    """
    image = opened(data)
    picture = wishes.picture
    dots = _dots_per_inch(image, picture)
    tones = tones_of(image, picture)
    level, told = _level(tones, picture)
    outlines = _outlines(tones, level)
    longest = outlines[0]
    notes = [*dots[1], told]
    if picture.trace == "line":
        longest = middle_of_line(longest)
        notes.append("the middle of the drawn line was taken")
    if len(outlines) > 1:
        notes.append(f"left out: {len(outlines) - 1} shorter outlines")
    height, width = tones.shape
    if _on_edge(longest, width, height):
        notes.append("the outline runs to the edge of the picture and ends there")
    scale = dots[0] or _scale_of(longest, picture)
    # pixels are counted from their middles; z runs upward
    points = np.column_stack((longest[:, 0] + 0.5, height - 0.5 - longest[:, 1]))
    chain = Chain((Curve(points * np.array(scale)),), "outline", measured=True)
    tolerance = max(TOLERANCES[0], TOLERANCES[1] * max(scale))
    return Tracing((chain,), wishes.units or "mm", tolerance, tuple(notes))


def opened(data: bytes) -> Image:
    """The picture, its size checked, not yet unpacked.

    Raises:
        InputError: it is no picture, too large or too small.
    """
    from PIL import Image, UnidentifiedImageError

    Image.MAX_IMAGE_PIXELS = None  # our own limit comes first
    try:
        image = Image.open(BytesIO(data), formats=_FORMATS)
    except UnidentifiedImageError:
        raise InputError(
            Problem("", "is no picture that is read", "a PNG, JPEG, BMP or TIFF")
        ) from None
    except (OSError, ValueError, SyntaxError, TypeError, KeyError, OverflowError) as error:
        raise InputError(Problem("", f"is no whole picture: {error}")) from None
    width, height = image.size
    if width * height > MOST_PIXELS:
        told = f"has {width} x {height} pixels"
        expected = f"at most {MOST_PIXELS // 10**6} million"
        raise InputError(Problem("", told, expected, "crop it, or scan at fewer dots per inch"))
    if min(width, height) < 8:
        raise InputError(Problem("", f"has {width} x {height} pixels", "8 x 8 at least"))
    return image


def _dots_per_inch(
    image: Image, picture: PictureWishes
) -> tuple[tuple[float, float] | None, list[str]]:
    """Millimetres per pixel across and up by dots per inch, or None when a length says it."""
    if picture.dpi is not None:
        return (_INCH / picture.dpi, _INCH / picture.dpi), []
    if picture.across is not None or picture.points is not None:
        return None, []
    said = image.info.get("dpi")
    problem = "does not say its scale"
    if said is not None:
        x, y = (float(value) for value in said)
        if all(math.isfinite(v) and 1.0 <= v <= 20_000.0 for v in (x, y)):
            # PNG counts dots per metre in whole numbers: 300 dpi comes back as 299.9994
            near = [round(v) if abs(v - round(v)) < 0.02 else v for v in (x, y)]
            if any(v not in UNSAID_DPI for v in near):
                note = f"scale: {near[0]:g} dots per inch, as the picture says"
                return (_INCH / near[0], _INCH / near[1]), [note]
            problem = f"says {near[0]:g} dots per inch, as programs do that do not know"
    raise InputError(
        Problem("dpi", problem, "the scale of the picture",
                "say --dpi, --across (the outline's width), or --points with --distance")
    )  # fmt: skip


def _scale_of(outline: Points, picture: PictureWishes) -> tuple[float, float]:
    """Millimetres per pixel by the outline's width, or by two points."""
    if picture.across is not None:
        scale = picture.across / float(np.ptp(outline[:, 0]))
    else:
        assert picture.points is not None
        assert picture.distance is not None
        scale = scale_by_points(picture.points, picture.distance)
    return (scale, scale)


def tones_of(image: Image, picture: PictureWishes) -> Tones:
    """The picture in greys, 0 black to 255 white, shape (height, width).

    Raises:
        InputError: it is cut off or holds what no picture does.
    """
    from PIL import Image, ImageFilter, ImageOps

    try:
        image.load()
        image = ImageOps.exif_transpose(image)
        if image.mode.startswith("I;16"):
            wide = np.asarray(image, dtype=np.float32) / 257.0
            image = Image.fromarray(wide.round().astype(np.uint8))
        if "A" in image.getbands() or "transparency" in image.info:
            whole = image.convert("RGBA")
            ground = Image.new("RGBA", whole.size, (255, 255, 255, 255))
            image = Image.alpha_composite(ground, whole)
        grey = image.convert("L")
        if picture.smooth > 0.0:
            grey = grey.filter(ImageFilter.GaussianBlur(picture.smooth))
    except (OSError, ValueError, SyntaxError, TypeError, KeyError, IndexError) as error:
        raise InputError(Problem("", f"is no whole picture: {error}")) from None
    tones = np.asarray(grey, dtype=np.float32)
    return 255.0 - tones if picture.light else tones


def _level(tones: Tones, picture: PictureWishes) -> tuple[float, str]:
    """The tone at which dark and light part, and how that was found.

    Where the tones part best (N. Otsu, IEEE Trans. SMC 9, 1979, 62-66, from memory) tells which are
    dark and which light; half-way between the means of both, a straight edge lies where it is,
    even to a part of a pixel.
    """
    if picture.threshold is not None:
        threshold = 255.0 - picture.threshold if picture.light else picture.threshold
        return threshold, f"tones parted at {picture.threshold:g} of 255"
    counts = np.bincount(tones.astype(np.uint8).ravel(), minlength=256).astype(np.float64)
    values = np.arange(256.0)
    below = np.cumsum(counts)
    above = below[-1] - below
    sums = np.cumsum(counts * values)
    with np.errstate(divide="ignore", invalid="ignore"):
        dark, light = sums / below, (sums[-1] - sums) / above
        between = np.nan_to_num(below * above * (light - dark) ** 2, nan=0.0)
    best = int(np.argmax(between))
    if not light[best] - dark[best] >= LEAST_CONTRAST:  # not a number where there is one tone
        low, high = float(tones.min()), float(tones.max())
        told = f"shows no outline: its tones run from {low:.0f} to {high:.0f} of 255 only"
        raise InputError(Problem("", told, "dark on light", "more contrast, or say --threshold"))
    level = (float(dark[best]) + float(light[best])) / 2.0
    return level, f"tones parted at {level:.0f} of 255 (dark {dark[best]:.0f}, light " \
                  f"{light[best]:.0f})"  # fmt: skip


def _outlines(tones: Tones, level: float) -> list[Points]:
    """The lines between dark and light [pixels, from the middle of the first], longest first."""
    import contourpy

    crossings = int(np.count_nonzero(np.diff(tones > level, axis=1)))
    if crossings > MOST_CROSSINGS:
        told = f"goes from dark to light {crossings} times along its rows"
        raise InputError(Problem("", told, "a clear edge", "a larger --smooth, or crop it"))
    lines = contourpy.contour_generator(z=tones, name="serial").lines(level)
    long_enough = [np.asarray(line, dtype=np.float64) for line in lines if len(line) > 8]
    outlines = sorted(long_enough, key=lambda line: -float(places_along(line)[-1]))
    if not outlines:
        told = f"shows no outline at the tone {level:.0f} of 255"
        raise InputError(Problem("threshold", told, "another --threshold"))
    if 2 * len(outlines[0]) > MOST_NUMBERS:
        told = f"has an outline of {len(outlines[0])} points"
        raise InputError(Problem("", told, "a clear edge", "a larger --smooth, a smaller picture"))
    size = float(places_along(outlines[0])[-1])
    return [line for line in outlines if float(places_along(line)[-1]) > 0.02 * size]


def _on_edge(outline: Points, width: int, height: int) -> bool:
    """Whether an open outline ends where the picture does."""
    return any(
        min(x, y, width - 1 - x, height - 1 - y) < 0.01 for x, y in (outline[0], outline[-1])
    )
