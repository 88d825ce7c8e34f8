"""Finding: which bits, at which offsets and depths, make a wanted profile."""
