"""What a job does not say and was taken all the same."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """One thing taken, and where a job can state it."""

    key: str
    """Key of the job file."""
    text: str
