"""Where upright lines cross regions."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from profilestack.cutting.nearest import Numbers
from profilestack.geometry.path import Points

BESIDE = 1e-6
"""Lines stand so far beside their places [mm], so that no upright wall lies in one."""


def crossings(
    chains: Sequence[Points], spacing: float
) -> tuple[npt.NDArray[np.intp], Numbers, Numbers]:
    """Stretches of upright lines inside regions whose rings are ``chains``, (n, 2) [mm], closed.

    Line k stands at k x ``spacing``. Returned are the lines' numbers, rising, and the bottoms and
    tops [mm] of the stretches, from below upward.
    """
    none = np.zeros(0)
    if not chains:
        return np.zeros(0, dtype=np.intp), none, none
    starts = np.concatenate([chain[:-1] for chain in chains])
    ends = np.concatenate([chain[1:] for chain in chains])
    left, right = np.minimum(starts[:, 0], ends[:, 0]), np.maximum(starts[:, 0], ends[:, 0])
    first = np.ceil((left - BESIDE) / spacing).astype(np.intp)
    last = np.ceil((right - BESIDE) / spacing).astype(np.intp)
    edge = np.repeat(np.arange(len(first)), last - first)
    line = np.arange(len(edge)) - np.repeat(np.cumsum(last - first) - (last - first), last - first)
    line += first[edge]
    run = ends[edge, 0] - starts[edge, 0]
    share = (line * spacing + BESIDE - starts[edge, 0]) / run
    z = starts[edge, 1] + np.clip(share, 0.0, 1.0) * (ends[edge, 1] - starts[edge, 1])
    order = np.lexsort((z, line))
    line, z = line[order], z[order]
    return line[::2], z[::2], z[1::2]
