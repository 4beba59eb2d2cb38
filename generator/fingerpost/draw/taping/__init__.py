"""Tape, a frame a step."""
