"""Tracings as plain values, to be handed from one process to another."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from profilestack.errors import InputError, Problem
from profilestack.files.targets.wishes import MOST_NUMBERS
from profilestack.geometry.path import Arc, Line
from profilestack.targets.tracing import Chain, Curve, Piece, Tracing


def tracing_to_plain(tracing: Tracing) -> dict[str, Any]:
    """A tracing as plain values.

    Raises:
        InputError: it has more coordinates than a file may have, or some that are not finite.
    """
    chains, count = [], 0
    for chain in tracing.chains:
        pieces: list[list[Any]] = []
        for piece in chain.pieces:
            if isinstance(piece, Line):
                pieces.append(["line", *piece.start, *piece.end])
            elif isinstance(piece, Arc):
                turn = piece.turn
                pieces.append(["arc", *piece.start, *piece.end, *piece.center, turn])
            else:
                pieces.append(["curve", *piece.points.ravel().tolist()])
            count += len(pieces[-1]) - 1
            if not all(math.isfinite(v) for v in pieces[-1][1:] if not isinstance(v, str)):
                where = f" ({chain.label})" if chain.label else ""
                raise InputError(Problem("", f"holds a coordinate that is not finite{where}"))
        if count > MOST_NUMBERS:
            raise InputError(
                Problem("", f"gives more than {MOST_NUMBERS} coordinates", "a simpler drawing")
            )
        chains.append({"label": chain.label, "measured": chain.measured, "pieces": pieces})
    return {
        "chains": chains,
        "units": tracing.units,
        "tolerance": tracing.tolerance,
        "notes": list(tracing.notes),
    }


def tracing_from(plain: dict[str, Any]) -> Tracing:
    """A tracing from plain values."""
    chains = []
    for chain in plain["chains"]:
        pieces = tuple(_piece(values) for values in chain["pieces"])
        chains.append(Chain(pieces, chain["label"], chain["measured"]))
    return Tracing(tuple(chains), plain["units"], plain["tolerance"], tuple(plain["notes"]))


def _piece(values: list[Any]) -> Piece:
    kind, *numbers = values
    if kind == "line":
        x0, z0, x1, z1 = numbers
        return Line((x0, z0), (x1, z1))
    if kind == "arc":
        x0, z0, x1, z1, x, z, turn = numbers
        return Arc((x0, z0), (x1, z1), (x, z), turn)
    return Curve(np.array(numbers).reshape(-1, 2))
