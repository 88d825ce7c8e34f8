"""Files: stacks and libraries of bits, read strictly and saved safely."""
