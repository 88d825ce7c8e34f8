"""The section in the middle of the window: seen, pointed at, and edited under the hand."""
