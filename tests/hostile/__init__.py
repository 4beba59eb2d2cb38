"""Hostile input, and what looks whether it got anywhere: payloads, planting, reading pages as browsers do, killing."""
