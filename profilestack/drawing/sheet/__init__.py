"""The run sheet: one setup a page, in the order in which the eye wants it at the machine."""
