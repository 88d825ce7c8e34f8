"""The piece: forms for the blank, the run, the setups, the tolerances and the units."""
