"""An answer to "why", ready to be laid out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sillwright.job import Job
from sillwright.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """One input of a formula: what it is, its value as text with unit and ±, and the id that explains it."""

    name: str
    value: str
    ident: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Explanation:
    """Why a number is what it is."""

    ident: str
    title: str
    answer: tuple[str, ...]
    """In a carpenter's words, one sentence or two a line."""
    formula: str
    """Empty where the number was read, not computed."""
    given: tuple[Given, ...]
    source: str
    """Of the formula or limit; or `common practice, no source`."""
    see: tuple[str, ...] = ()
    """Ids that lead on."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Something that can be asked about."""

    kind: str
    """A key of `KINDS`."""
    make: Callable[[], Explanation]


@dataclass(frozen=True, slots=True)
class Case:
    """What an explanation draws on."""

    job: Job
    plan: Plan


Index = dict[str, Entry]
"""Entries by id, in the order of the plan."""
