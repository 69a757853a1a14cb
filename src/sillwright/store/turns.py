"""Turns to write: what comes while somebody writes is taken in together by the next."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sillwright.errors import Fault
from sillwright.store.kinds import NewEvent
from sillwright.store.record import Event
from sillwright.store.state import State

Check = Callable[[State, NewEvent], Sequence[Fault]]
Note = Callable[[State, NewEvent], Mapping[str, Any]]


@dataclass(slots=True, kw_only=True)
class Outcome:
    """What became of events that were sent."""

    seq: int = 0
    taken: list[Event] = field(default_factory=list)
    had: list[str] = field(default_factory=list)
    refused: list[tuple[str, tuple[Fault, ...]]] = field(default_factory=list)


@dataclass(slots=True, kw_only=True)
class Asked:
    """What one client sent, while it waits to be taken in."""

    raw: list[object]
    device: str
    check: Check
    note: Note
    start: bool
    """The job need not be there yet."""
    outcome: Outcome = field(default_factory=Outcome)
    error: Exception | None = None
    called: threading.Event = field(default_factory=threading.Event)
    leads: bool = False
    """Called to take its turn, and not because somebody did it all."""


class Turns:
    """One client at a time takes in all that waits for its job: one reading of the file, one write to disk.

    Each that waits is woken once: if all crowded at one lock, every write would wake them one by one.
    """

    def __init__(self, take: Callable[[str, Sequence[Asked]], None]) -> None:
        self._take = take
        self._door = threading.Lock()
        self._busy = False
        self._waiting: dict[str, list[Asked]] = {}

    def wait(self, job: str, asked: Asked) -> None:
        """Return when it was taken in.

        Raises:  whatever stands against it
        """
        with self._door:
            self._waiting.setdefault(job, []).append(asked)
            asked.leads, self._busy = not self._busy, True
        if not asked.leads:
            asked.called.wait()
        if asked.leads:
            try:
                self._lead(job)
            finally:
                self._call_next()
        if asked.error is not None:
            raise asked.error

    def _lead(self, job: str) -> None:
        with self._door:
            together = self._waiting.pop(job)
        self._together(job, together)

    def _together(self, job: str, together: Sequence[Asked]) -> None:
        """Take in all of them; if that fails each alone, so that nobody fails for somebody else."""
        try:
            self._take(job, together)
        except Exception as error:  # it is raised again where the client waits
            if len(together) == 1:
                together[0].error = error
            else:
                for each in together:
                    each.outcome = Outcome()
                    self._together(job, [each])
        for each in together:
            each.called.set()

    def _call_next(self) -> None:
        with self._door:
            first = next(iter(self._waiting.values()), None)  # the job that has waited longest
            self._busy = first is not None
            if first is not None:
                first[0].leads = True
                first[0].called.set()
