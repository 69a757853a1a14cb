"""The pipeline: one pure function makes the plan of a job, and everything a person sees renders it.

    Job -> survey -> setting -> Plan
"""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.findings import Finding
from sillwright.lengths import Unit
from sillwright.setting.model import Setting
from sillwright.survey.model import NextReading, Survey

PLAN_VERSION = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What to know and do about a wall."""

    plan_version: int
    title: str
    units: Unit
    fingerprint: str
    """First 12 hexadecimal digits of the SHA-256 of the job: the same job gives the same plan."""
    invented: bool
    findings: tuple[Finding, ...]
    cautions: tuple[str, ...]
    survey: Survey
    measure_next: tuple[NextReading, ...]
    setting: Setting
