"""The full-size section: pages at true scale to lay on the work."""
