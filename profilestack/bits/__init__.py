"""Router bits: shapes, the bits themselves, and libraries of them in memory."""

from profilestack.bits.bit import Bit
from profilestack.bits.shapes.base import BitShape

__all__ = ["Bit", "BitShape"]
