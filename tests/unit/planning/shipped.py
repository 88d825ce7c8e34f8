"""Shipped examples that tests of planning use."""

from __future__ import annotations

from pathlib import Path

EXAMPLES = Path(__file__).parents[3] / "examples"
CROWN = EXAMPLES / "cornice" / "crown.stack.toml"
OGEE = EXAMPLES / "ogee" / "small.stack.toml"
LARGE_OGEE = EXAMPLES / "ogee" / "large.stack.toml"
