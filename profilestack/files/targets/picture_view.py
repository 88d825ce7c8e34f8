"""How a picture looks, small enough for a screen: to point at places in it."""

from __future__ import annotations

import base64
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from profilestack.files.targets.wishes import PictureWishes

MOST_SHOWN = 2000
"""A picture is made smaller until its longer side has so many pixels."""


@dataclass(frozen=True, slots=True, eq=False)
class PictureView:
    """A picture in greys, as it is read: upright, with white behind what is clear.

    ``width`` and ``height`` [pixels] are the picture's own. ``tones``, shape (rows, columns), 0
    black to 255 white, shows all of it in fewer pixels where it is large.
    """

    width: int
    height: int
    tones: npt.NDArray[np.uint8]


def view_of(data: bytes) -> PictureView:
    """How a picture looks.

    Raises:
        InputError: it is no whole picture, or too large.
    """
    from PIL import Image

    from profilestack.files.targets.picture import opened, tones_of

    tones = tones_of(opened(data), PictureWishes()).round().astype(np.uint8)
    height, width = tones.shape
    share = min(1.0, MOST_SHOWN / max(width, height))
    if share < 1.0:
        size = (max(1, round(width * share)), max(1, round(height * share)))
        tones = np.asarray(Image.fromarray(tones).resize(size, Image.Resampling.BOX))
    return PictureView(width, height, tones)


def view_to_plain(view: PictureView) -> dict[str, Any]:
    """The view as plain values, for another process."""
    return {
        "size": [view.width, view.height],
        "shape": list(view.tones.shape),
        "tones": base64.b64encode(view.tones.tobytes()).decode("ascii"),
    }


def view_from(plain: dict[str, Any]) -> PictureView:
    """The view from plain values."""
    tones = np.frombuffer(base64.b64decode(plain["tones"]), dtype=np.uint8)
    width, height = plain["size"]
    return PictureView(width, height, tones.reshape(plain["shape"]))
