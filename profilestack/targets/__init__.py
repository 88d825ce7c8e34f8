"""Target paths: typed, or built from classical members."""
