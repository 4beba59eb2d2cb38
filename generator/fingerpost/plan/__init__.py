"""Decide everything that a reader will see, as data."""
