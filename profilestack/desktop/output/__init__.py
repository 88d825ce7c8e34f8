"""What leaves the window: paper, files, the clipboard."""
