"""An open document without a window: its past, its file, its journal; settings of the user."""
