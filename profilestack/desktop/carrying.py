"""What can be carried by the mouse or the clipboard, by its MIME type."""

BIT = "application/x-profilestack-bit"
"""The id of a bit, UTF-8: dragged from the drawer onto the section, or among the passes."""

PASSES = "application/x-profilestack-passes"
"""Passes, as the tables [[pass]] of a stack file in mm, UTF-8."""
