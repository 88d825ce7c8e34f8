"""Ways to cut it: the finder asked, its options compared and taken."""
