"""Marks: how a written text says where a figure is from. '[lutter-2018 recalled]', '[common-practice]'."""

from __future__ import annotations

import re

from fingerpost.model.grammar import choices_of
from fingerpost.model.words import Seen

MARK = re.compile(rf"\s*\[(?P<source>(?P<name>[a-z0-9-]+)(?: (?P<seen>{'|'.join(choices_of(Seen))}))?)\]")
"""A mark with the blank before it. `source` is what a key `source` holds: a name, and at most how far it was seen."""
