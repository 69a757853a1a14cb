"""Is the record whole? Every hash, every photo, and the sum of it all, looked at again."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass

from sqlalchemy import Connection, select

from sillwright.errors import BadInput, StoreError
from sillwright.store import schema
from sillwright.store.engine import Database, shown
from sillwright.store.fold import after, after_all
from sillwright.store.record import Broken, Event, event_of, first_broken
from sillwright.store.state import State
from sillwright.wording import say


@dataclass(frozen=True, slots=True, kw_only=True)
class JobReport:
    """What was found of one job."""

    job: str
    title: str
    seq: int
    head: str
    """Hash of its last event: it stands on the printed record."""
    photos: int
    broken: tuple[Broken, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """What was found of a database."""

    jobs: tuple[JobReport, ...]

    @property
    def whole(self) -> bool:
        """Does every link of every job hold?"""
        return not any(job.broken for job in self.jobs)


def verify(database: Database) -> Report:
    """Return what holds of the record and what does not, the first broken link of each job first.

    Raises:  StoreError: the database itself is damaged
    """
    with database.reading() as connection:
        if database.engine.dialect.name == "sqlite":
            found = connection.exec_driver_sql("PRAGMA integrity_check").scalar()
            if found != "ok":
                raise StoreError(say("store.damaged", db=shown(database.address), reason=found))
        rows = connection.execute(select(schema.job).order_by(schema.job.c.id)).mappings()
        return Report(jobs=tuple(_job(connection, dict(row)) for row in rows.all()))


def _job(connection: Connection, row: dict[str, object]) -> JobReport:
    job, seq, head = str(row["id"]), int(str(row["seq"])), str(row["head"])
    query = select(schema.event).where(schema.event.c.job == job).order_by(schema.event.c.seq)
    rows = [dict(each) for each in connection.execute(query).mappings()]
    link = first_broken(job, rows, seq=seq, head=head)
    photos = connection.execute(select(schema.photo).where(schema.photo.c.job == job)).mappings()
    hashes = {each["id"]: (each["sha256"], hashlib.sha256(each["data"]).hexdigest()) for each in photos}
    broken = [] if link is None else [link]
    if link is None:
        events = [event_of(each) for each in rows]
        broken += _pictures(events, hashes)
        broken += _sum(job, events)
    return JobReport(
        job=job, title=str(row["title"]), seq=seq, head=head, photos=len(hashes), broken=tuple(broken)
    )


def _pictures(events: list[Event], hashes: dict[str, tuple[str, str]]) -> Iterator[Broken]:
    for event in events:
        said = event.noted.get("photo_sha256")
        if said is not None and hashes.get(event.payload["photo"]) != (said, said):
            yield Broken(job=event.job, seq=event.seq, what="photo", event=event.id)


def _sum(job: str, events: list[Event]) -> Iterator[Broken]:
    """Fold the events anew: each must be one that could be taken."""
    with suppress(BadInput):
        after_all(State(job=job), events)
        return
    state = State(job=job)
    for event in events:
        try:
            state = after(state, event)
        except BadInput:
            yield Broken(job=job, seq=event.seq, what="cannot_follow", event=event.id)
            return
