"""Where the project lies: the folder that holds protocols/, templates/ and site_overrides/ beside this package."""

from __future__ import annotations

from pathlib import Path

PROJECT = Path(__file__).resolve().parents[3]
DEMO_CASES = PROJECT / "tests" / "golden" / "cases"
