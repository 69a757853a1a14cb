"""Answers: who settled a finding, when, and by what; kept in the job and shown beside the finding.

    [[answer]]
    finding = "finding.header.span.A"
    by = "engineer's letter"
    date = 2026-05-04
    note = "3-2x12, two jacks each end, sealed drawing S1"
    value = '102"'                  # what it was given for, copied from the finding

An answer never removes a finding. It takes a stop or a fix down to watch and stands beside it, with the
severity it had. An answer given for one value does not hold for another: the finding then keeps its
severity and says so. An answer to a finding that no longer arises is kept, and said.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass, replace

from sillwright.errors import BadInput, Fault
from sillwright.findings import Finding

SOURCE = "the answer in the job file"


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One answer to one finding."""

    finding: str
    """Id of the finding."""
    by: str
    """Who or what settles it: maker's label, engineer's letter, inspector by name."""
    date: datetime.date
    note: str = ""
    value: str = ""
    """The finding's value that it was given for; empty: whatever the value becomes."""

    def __post_init__(self) -> None:
        faults = [
            Fault(f"answer.{key}", "must not be empty.", advice)
            for key, advice in (("finding", "Give the finding's id."), ("by", "Say who settles it."))
            if not getattr(self, key).strip()
        ]
        if faults:
            raise BadInput(*faults)

    def said(self) -> str:
        """Return the answer in one line."""
        told = f"{self.by}, {self.date.isoformat()}"
        for_value = f", for {self.value}" if self.value else ", for no stated value"
        return f"{told}{for_value}{f': {self.note}' if self.note else ''}"


def apply_answers(findings: Iterable[Finding], answers: Iterable[Answer]) -> tuple[Finding, ...]:
    """Return the findings with their answers, and one to watch for each answer that answers nothing now."""
    found = tuple(findings)
    by_id: dict[str, list[Answer]] = {}
    for answer in sorted(answers, key=lambda each: each.date):
        by_id.setdefault(answer.finding, []).append(answer)
    answered = tuple(_answered(each, by_id.get(each.id, [])) for each in found)
    present = {each.id for each in found}
    idle = (each for ident, given in by_id.items() if ident not in present for each in given)
    return (*answered, *(_idle(each) for each in idle))


def _answered(finding: Finding, answers: list[Answer]) -> Finding:
    if not answers:
        return finding
    latest = answers[-1]
    if latest.value and latest.value != finding.value:
        now = finding.value or "without a value"
        told = f"Not settled: the answer by {latest.said()}. The finding is now {now}."
        return replace(finding, answer=told)
    told = f"{finding.severity} answered by {'; '.join(each.said() for each in reversed(answers))}"
    return replace(finding, severity="watch", answer=told)


def _idle(answer: Answer) -> Finding:
    return Finding(
        id=f"finding.answer.{answer.finding}.{answer.date.isoformat()}",
        severity="watch",
        message=f"An answer to {answer.finding} answers nothing now: the finding no longer arises.",
        advice="Keep it if the plan may go back; otherwise take it out of the job.",
        source=SOURCE,
        answer=answer.said(),
    )
