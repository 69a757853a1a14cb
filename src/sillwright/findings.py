"""Findings: what a person must know before the next step, each with its source."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Severity = Literal["stop", "fix", "watch"]
"""stop: do not go on, ask who decides; fix: act before the next step; watch: know this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One statement about the wall, the readings or the plan."""

    id: str
    severity: Severity
    message: str
    advice: str
    source: str
    """Where the limit or formula comes from; or `common practice, no source`."""
    place: str = ""
    """Opening, pad, reading or set-up it belongs to (an id of the plan)."""
    value: str = ""
    """What was found, with its unit, where the finding compares something with a limit."""
    limit: str = ""
    """What it was compared with, with its unit."""
    mark: str = ""
    """Part of the place that a drawing marks: sill, head, glass, landing."""
    answer: str = ""
    """Who answered it, when and how; a finding that is answered is kept and shown with its answer."""


def worst_first(findings: list[Finding]) -> tuple[Finding, ...]:
    """Return findings with stops first, then fixes, then what to watch; otherwise in the order made."""
    rank = {"stop": 0, "fix": 1, "watch": 2}
    return tuple(sorted(findings, key=lambda finding: rank[finding.severity]))
