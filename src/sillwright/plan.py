"""The pipeline: one pure function makes the plan of a job, and everything a person sees renders it.

Job -> survey -> setting -> heights and checks -> water -> Plan
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from sillwright.advice import cautions, findings
from sillwright.errors import BadInput, Fault
from sillwright.findings import Finding, worst_first
from sillwright.flashing import WaterPlan, check_water, plan_water
from sillwright.inspection import (
    DeckFrame,
    EngineerSheet,
    FramingValue,
    Heights,
    InspectionRow,
    LedgerPlan,
    inspect_wall,
    with_answers,
)
from sillwright.job import Job
from sillwright.lengths import Unit
from sillwright.rules import RuleBook, rule_book
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
    """First 12 hexadecimal digits of the SHA-256 of the job and its amendments: the same give one plan."""
    invented: bool
    findings: tuple[Finding, ...]
    cautions: tuple[str, ...]
    survey: Survey
    measure_next: tuple[NextReading, ...]
    setting: Setting
    heights: Heights | None
    """The vertical chain at the door above the deck; None: no deck, or not enough is known."""
    ledger: LedgerPlan | None
    """None: the deck has none, or its height or its ends are not known."""
    frame: DeckFrame | None
    """The deck from above; None: its joists are not known."""
    framing: tuple[FramingValue, ...]
    """What the span tables say of the deck's joists, beam, posts and footings."""
    engineer: tuple[EngineerSheet, ...]
    """Ledger, headers and deck framing by calculation, for your engineer: no permission to build."""
    inspection: tuple[InspectionRow, ...]
    """Every finding of heights, ledger and checks, and every check that is met, for the inspector."""
    water: WaterPlan | None
    """How the wall is dressed and where water can get; None: no opening can be dressed, or none is wanted."""


def plan(job: Job, book: RuleBook | None = None) -> Plan:
    """Return the plan of a job: pure, deterministic, without I/O.

    Args:    book: what to judge by; without it, the model code of the job's edition
    Raises:
        BadInput: the job contradicts itself, e.g. a pad shot again that the plan does not have, or names
            local amendments that no book was made of
    """
    book = book or _model_code(job)
    solution = cleanse(job)
    wall = Wall(solution)
    survey = report(job, solution)
    setting = set_wall(job, wall, survey)
    question, words = decision(job, wall, setting)
    inspected = inspect_wall(job, survey, setting, book)
    watered = plan_water(job, survey, setting, inspected.ledger, book)
    found = [*findings(job, survey, setting), *inspected.findings, *watered.findings]
    answered, rows = with_answers(job, found, [*inspected.rows, *watered.rows])
    return Plan(
        plan_version=PLAN_VERSION,
        title=job.title,
        units=job.units,
        fingerprint=fingerprint(job, book),
        invented=job.invented,
        findings=worst_first(list(answered)),
        cautions=cautions(job),
        survey=survey,
        measure_next=measure_next(job, wall, question, decision=words),
        setting=setting,
        heights=inspected.heights,
        ledger=inspected.ledger,
        frame=inspected.frame,
        framing=inspected.framing,
        engineer=inspected.engineer,
        inspection=rows,
        water=watered.water,
    )


def check_plannable(job: Job, book: RuleBook) -> None:
    """Go as far through the planning of a job as can refuse it: heights, and pieces of flashing it changes.

    Raises:  BadInput: what `plan` would refuse
    """
    solution = cleanse(job)
    survey = report(job, solution)
    setting = set_wall(job, Wall(solution), survey)
    check_water(job, survey, setting, inspect_wall(job, survey, setting, book).ledger)


def _model_code(job: Job) -> RuleBook:
    if job.code.amendments:
        what = f"the local amendments in {job.code.amendments} were not read."
        raise BadInput(
            Fault("code.amendments", what, "Plan the job from its file, or hand over a rule book.")
        )
    return rule_book(job.code.edition, job.code.place)


def fingerprint(job: Job, book: RuleBook | None = None) -> str:
    """Return a short name of a job's content, and of the local amendments it is judged by."""
    said = hashlib.sha256(job.model_dump_json().encode())
    if book is not None and book.amendments:
        limits = [each for each in book.limits.values() if each.origin]
        rows = [row for table in book.tables.values() for row in table.rows if row.origin]
        said.update(repr((limits, rows, dict(book.struck))).encode())
    return said.hexdigest()[:12]
