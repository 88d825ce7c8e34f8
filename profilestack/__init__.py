"""profilestack: which router bits, at which offsets and depths, make a wanted molding profile."""

__version__ = "0.1.0"
