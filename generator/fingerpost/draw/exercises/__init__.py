"""Exercises: start and end, or the frames of a sequence."""
