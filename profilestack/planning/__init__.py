"""Planning: relief, order, steps and minutes of a stack, from a shop's figures."""
