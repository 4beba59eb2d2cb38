"""Hands on holds."""
