"""The one family of errors a person can meet.

    SillwrightError
    ├── BadInput        what was typed or written cannot be used; says where and what to do
    ├── OutOfRange      a formula or table was asked for something outside its limits
    ├── NotDetermined   the readings do not settle what was asked
    ├── UnknownVersion  a file of a form this version does not know
    ├── StoreError      the record cannot be read or written
    └── OutputError     the result could not be written

A finding is not an error: a bad wall is an answer.
"""

from __future__ import annotations

from dataclasses import dataclass


class SillwrightError(Exception):
    """Any fault that is told to a person in one message, without a traceback."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with an input: where it is, what is wrong, what to do."""

    where: str
    what: str
    advice: str = ""
    line: int | None = None

    def __str__(self) -> str:
        """Read as one line: place, fault, advice."""
        line = "" if self.line is None else f"line {self.line}"
        place = ", ".join(part for part in (line, self.where) if part)
        return f"{place}: " * bool(place) + " ".join(part for part in (self.what, self.advice) if part)


class BadInput(SillwrightError, ValueError):
    """Input that cannot be used; carries every fault found, not only the first."""

    def __init__(self, *faults: Fault) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))


class OutOfRange(SillwrightError, ValueError):
    """A value outside the limits of a formula or table."""


class NotDetermined(SillwrightError):
    """The readings do not settle the quantity asked for."""


class UnknownVersion(BadInput):
    """A job file of a version this program does not know."""


class StoreError(SillwrightError):
    """The record of jobs cannot be read or written; says how to get it back."""


class OutputError(SillwrightError, OSError):
    """A result that could not be written; nothing was left half done."""
