"""Writers for other programs: one file a kind."""
