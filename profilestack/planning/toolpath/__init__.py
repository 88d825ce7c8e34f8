"""The ways of a machine's spindle: moves, travels along the part, programs."""
