"""The report of a stack on paper: its picture, the steps of its plan, cautions."""
