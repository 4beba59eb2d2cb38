"""Settings for all tests: drawn examples are the same on every run, and no example is timed."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("fingerpost", derandomize=True, deadline=None, max_examples=100)
settings.load_profile("fingerpost")
