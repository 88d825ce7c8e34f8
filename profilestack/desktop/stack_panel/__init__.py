"""The stack: passes in cutting order, the moment that is looked at, the numbers that matter."""
