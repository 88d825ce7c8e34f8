"""Values to drawings in mm, and drawings to pictures and pages at true scale."""
