"""What a check is, and what it can come to."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from sillwright.findings import Finding, Severity

if TYPE_CHECKING:
    from sillwright.rules.case import Case

Edition = Literal["2018", "2021"]
"""Edition of the model codes a job is judged by."""

CodePlace = Literal["us-model-code", "florida", "canada-ontario"]
"""Whose water requirements a job is judged by; the edition's other limits stay those of the model code."""

PRACTICE = "common practice, no source"

Status = Literal["met", "not met", "does not apply", "not checked", "outside table", "struck out"]
"""What a check came to; `not checked` says what is missing, `outside table` says who decides."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where a check comes from."""

    title: str
    """IRC, IECC, 40 CFR 745, or `common practice, no source`."""
    section: str = ""
    """Section, where it is the same in every edition."""
    by_edition: Mapping[str, str] = field(default_factory=dict)
    """Section by edition, where it moved."""
    has_editions: bool = True
    """Is the edition part of the title: IRC 2018."""

    def said(self, edition: str) -> str:
        """Return title, edition and section in one line."""
        title = f"{self.title} {edition}" if self.has_editions else self.title
        section = self.by_edition.get(edition, self.section)
        return f"{title}, {section}" if section else title


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What the function of a check returns where the check applies."""

    met: bool
    value: str = ""
    """What was found, with its unit."""
    limit: str = ""
    """What it was compared with, with its unit."""
    detail: str = ""
    """A further sentence for the message."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check: data, and one small function."""

    id: str
    title: str
    source: Source
    facts: tuple[str, ...]
    """Facts that the function may ask for."""
    limits: tuple[str, ...] = ()
    """Limits that it may ask for, by their ids in `limits.csv`."""
    tables: tuple[str, ...] = ()
    """Tables that it may ask for."""
    severity: Severity
    """Of the finding where the check is not met."""
    pressing: str = ""
    """A fact that, where it holds, turns a missing one from watch to stop."""
    message: str
    """What is wrong, with {value}, {limit} and {place} to be filled in."""
    advice: str
    decides: str = "building department"
    """Whose answer settles it."""
    mark: str
    """Part of the opening that a drawing marks."""
    judge: Callable[[Case], Verdict | None]
    """Return the verdict, or None where the check does not apply."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What one check came to at one place."""

    check: Check
    place: str
    status: Status
    source: str
    value: str = ""
    limit: str = ""
    why: str = ""
    """What is missing, which bound was passed, or what struck the check out."""
    finding: Finding | None = None
    """None where the check is met, does not apply, or is struck out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """One check as it is listed for a reader."""

    id: str
    title: str
    source: str
    edition: str
    severity: Severity
    limits: tuple[str, ...]
    decides: str
