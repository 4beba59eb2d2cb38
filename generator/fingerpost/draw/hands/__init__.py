"""Whole hands, with spots, tape and places to touch."""
