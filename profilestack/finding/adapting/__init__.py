"""Fitting a target to the drawer: radii and quirks moved to what its bits have."""
