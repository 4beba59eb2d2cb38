"""What those who work on files are given: how a file is called, and who hears how far it is."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

Name = Callable[[Path], str]
"""How a file is called where somebody reads of it."""
Tell = Callable[[str], None]
"""What hears how far something is."""
