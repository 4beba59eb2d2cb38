"""Canonical YAML: the order of keys, quotes and line breaks, with the comments kept."""
