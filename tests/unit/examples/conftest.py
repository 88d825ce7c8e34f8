"""The shipped examples, for the tests that cut them."""

from __future__ import annotations

import pytest

from profilestack.files.shipped import read_bits, shipped_examples_dir
from tests.unit.examples.pieces import Pieces


@pytest.fixture(scope="session")
def pieces() -> Pieces:
    return Pieces(shipped_examples_dir(), {bit.id: bit for bit in read_bits("@small-shop")})
