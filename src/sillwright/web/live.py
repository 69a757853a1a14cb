"""Who is looking at which job, told at once of what comes in: a stream of server-sent events each."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Callable
from typing import Any

from sillwright.store import Event

HEARTBEAT = 15.0
"""Seconds without news after which a line is sent, so that a dead line is noticed."""

Fetch = Callable[[int], tuple[Event, ...]]


class Hub:
    """Wakes those who follow a job; may be told from any thread."""

    def __init__(self) -> None:
        self._waiting: dict[str, set[asyncio.Event]] = {}
        self._loop: asyncio.AbstractEventLoop | None = None
        self._plans: dict[str, tuple[int, str | None]] = {}
        self._ended = False

    def tell(self, job: str) -> None:
        """Say that there is news of a job."""
        if self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._wake, job)

    def planned(self, job: str, seq: int, plan: str | None) -> None:
        """Say that a job was planned."""
        before = self._plans.get(job)
        if before is None or before[0] < seq:
            self._plans[job] = (seq, plan)
            self.tell(job)

    def end(self) -> None:
        """Let every stream come to its end."""
        self._ended = True
        for job in list(self._waiting):
            self.tell(job)

    def _wake(self, job: str) -> None:
        for bell in self._waiting.get(job, ()):
            bell.set()

    async def follow(self, job: str, after: int, fetch: Fetch) -> AsyncIterator[str]:
        """Yield what is new of a job, from after an event on, for as long as somebody listens."""
        self._loop = asyncio.get_running_loop()
        bell = asyncio.Event()
        self._waiting.setdefault(job, set()).add(bell)
        told: tuple[int, str | None] | None = None
        try:
            yield ": here\n\n"
            while not self._ended:
                bell.clear()
                for event in await asyncio.to_thread(fetch, after):
                    after = event.seq
                    yield message("taken", event.data(), ident=event.seq)
                plan = self._plans.get(job)
                if plan is not None and plan != told:
                    told = plan
                    yield message("plan", {"seq": plan[0], "plan": plan[1]})
                try:
                    await asyncio.wait_for(bell.wait(), HEARTBEAT)
                except TimeoutError:
                    yield ": still here\n\n"
        finally:
            self._waiting[job].discard(bell)


def message(kind: str, data: Any, *, ident: int | None = None) -> str:
    """Return one server-sent event. Source: HTML Living Standard, section 9.2 (from memory)."""
    head = "" if ident is None else f"id: {ident}\n"
    return f"{head}event: {kind}\ndata: {json.dumps(data, ensure_ascii=False)}\n\n"
