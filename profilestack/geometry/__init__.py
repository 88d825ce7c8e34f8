"""Exact paths, regions and motions. Knows no wood."""
