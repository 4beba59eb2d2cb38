"""Pens: curves, SVG, letters and labels."""
