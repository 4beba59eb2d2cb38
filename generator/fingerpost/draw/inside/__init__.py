"""Under the skin."""
