"""Files of ours that cannot be used are kept beside, so that nothing is lost by starting anew."""

from __future__ import annotations

import os
from pathlib import Path

ENDING = ".bad"


def set_aside(path: Path) -> str:
    """Rename a broken file to ``NAME.bad``; the words that tell it, to be put after a message."""
    aside = path.with_name(path.name + ENDING)
    try:
        os.replace(path, aside)
    except OSError as error:
        return f" (it could not be set aside: {error.strerror})"
    return f"; the broken file is kept as {aside}"
