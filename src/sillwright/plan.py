"""The pipeline: one pure function makes the plan of a job, and everything a person sees renders it.

Job -> survey -> setting -> Plan
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from sillwright.advice import cautions, findings
from sillwright.findings import Finding, worst_first
from sillwright.job import Job
from sillwright.lengths import Unit
from sillwright.setting import Setting, decision, set_wall
from sillwright.survey import NextReading, Survey, Wall, cleanse, measure_next, report

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


def plan(job: Job) -> Plan:
    """Return the plan of a job: pure, deterministic, without I/O.

    Raises:
        BadInput: the job contradicts itself, e.g. a pad shot again that the plan does not have
    """
    solution = cleanse(job)
    wall = Wall(solution)
    survey = report(job, solution)
    setting = set_wall(job, wall, survey)
    question, words = decision(job, wall, setting)
    return Plan(
        plan_version=PLAN_VERSION,
        title=job.title,
        units=job.units,
        fingerprint=fingerprint(job),
        invented=job.invented,
        findings=worst_first(findings(job, survey, setting)),
        cautions=cautions(job),
        survey=survey,
        measure_next=measure_next(job, wall, question, decision=words),
        setting=setting,
    )


def fingerprint(job: Job) -> str:
    """Return a short name of a job's content."""
    return hashlib.sha256(job.model_dump_json().encode()).hexdigest()[:12]
