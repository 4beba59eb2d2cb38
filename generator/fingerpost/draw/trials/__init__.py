"""Hands-on tests."""
