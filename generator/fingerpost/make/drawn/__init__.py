"""Pictures and codes as SVG, each drawn once."""
