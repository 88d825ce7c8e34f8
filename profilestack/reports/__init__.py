"""What is said of results: text in 80 columns and JSON, the same from every door."""
