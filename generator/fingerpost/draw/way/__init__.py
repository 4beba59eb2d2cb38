"""The way back as a path."""
