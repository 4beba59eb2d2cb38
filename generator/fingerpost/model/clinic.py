"""What a clinic or a gym fills in once for itself (clinic.yml), beside the protocols that it shares with others."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.model.words import Line, WebAddress


@dataclass(frozen=True, kw_only=True)
class ClinicSettings:
    """Each may stay empty. `site_address`: where the built site stands, for addresses and codes on paper."""

    name: Line | None = None
    emergency_number: Line | None = None
    site_address: WebAddress | None = None
