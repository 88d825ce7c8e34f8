"""Cutting a stack: sweeps, sections, comparison with the target, cautions."""
