"""The wanted profile: built from members, drawn as lines and arcs, or imported."""
