"""Fingerpost: protocols for sore fingers, as YAML, become a site and printed sheets."""
