"""One event as it stands in the record, and the chain of hashes that holds it in its place."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from sillwright.store.canonical import canonical, digest

GENESIS = "0" * 64
"""What the first event of a job has for the hash before it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One event with what the server added: `noted` is what it knew of the matter when it took it."""

    job: str
    seq: int
    id: str
    kind: str
    made_at: str
    received_at: str
    device: str
    payload: Mapping[str, Any]
    noted: Mapping[str, Any]
    prev_hash: str
    hash: str = ""

    def chained(self) -> Event:
        """Return the event with its hash."""
        return replace(self, hash=event_hash(self))

    def row(self) -> dict[str, Any]:
        """Return it as a row of the table."""
        plain = self.data()
        return {**plain, "payload": canonical(plain["payload"]), "noted": canonical(plain["noted"])}

    def data(self) -> dict[str, Any]:
        """Return it as plain data."""
        names = ("job", "seq", "id", "kind", "made_at", "received_at", "device", "prev_hash", "hash")
        plain = {name: getattr(self, name) for name in names}
        return {**plain, "payload": dict(self.payload), "noted": dict(self.noted)}


def event_of(row: Mapping[str, Any]) -> Event:
    """Return the event in a row of the table."""
    payload, noted = json.loads(row["payload"]), json.loads(row["noted"])
    return Event(**{**row, "payload": payload, "noted": noted})


def event_hash(event: Event) -> str:
    """Return the SHA-256 over the canonical JSON of all of an event but its own hash."""
    plain = event.data()
    del plain["hash"]
    return digest(canonical(plain))


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """A link of a job's chain that does not hold."""

    job: str
    seq: int
    what: str
    """A name in the catalogue of words, under `broken`."""
    event: str = ""


def first_broken(job: str, rows: Iterable[Mapping[str, Any]], *, seq: int, head: str) -> Broken | None:
    """Return the first link of a job's chain that does not hold, None if all do.

    Args:    rows: of the event table, by seq; seq, head: where the chain is said to end
    """
    before, count = GENESIS, 0
    for count, row in enumerate(rows, start=1):
        said = _fault_of(row, before=before, seq=count)
        if said is not None:
            return Broken(job=job, seq=count, what=said, event=row["id"])
        before = row["hash"]
    if count < seq:
        return Broken(job=job, seq=count + 1, what="end_missing")
    if before != head or count > seq:
        return Broken(job=job, seq=count, what="head")
    return None


def _fault_of(row: Mapping[str, Any], *, before: str, seq: int) -> str | None:
    if row["seq"] != seq:
        return "missing"
    if row["prev_hash"] != before:
        return "previous"
    try:
        event = event_of(row)
        written = event.row()
    except (ValueError, TypeError, RecursionError):
        return "unreadable"
    if written["payload"] != row["payload"] or written["noted"] != row["noted"]:
        return "changed"
    return None if event_hash(event) == row["hash"] else "changed"
