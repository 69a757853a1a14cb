"""The store: jobs as events that are only ever added to, with photos and paired devices beside them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import reduce
from itertools import groupby
from typing import Any

from sqlalchemy import Connection, insert, select, update

from sillwright.errors import BadInput, Fault
from sillwright.store import schema
from sillwright.store.canonical import canonical, digest
from sillwright.store.devices import Devices
from sillwright.store.engine import Address, Database
from sillwright.store.fold import after, after_adds, after_all
from sillwright.store.kinds import NewEvent, read_event
from sillwright.store.naming import new_id, now
from sillwright.store.photos import Photos
from sillwright.store.record import GENESIS, Event, event_of
from sillwright.store.state import State, state_of
from sillwright.store.turns import Asked, Check, Note, Outcome, Turns
from sillwright.wording import fault

SNAPSHOT_EVERY = 20
"""Events after which a state is written down, so that a start reads few events again."""
_STATES_KEPT = 32


@dataclass(frozen=True, slots=True, kw_only=True)
class JobRow:
    """One job in the list of jobs."""

    id: str
    title: str
    units: str
    invented: bool
    changed_at: str
    seq: int
    head: str


def _nothing(_: State, __: NewEvent) -> Sequence[Fault]:
    return ()


def _unnoted(_: State, __: NewEvent) -> Mapping[str, Any]:
    return {}


class Store:
    """One database. Reading may go on in many threads at once; writes take turns."""

    def __init__(self, address: Address) -> None:
        self.database = Database(address)
        self.photos = Photos(self.database)
        self.devices = Devices(self.database)
        self._states: dict[str, State] = {}
        self._turns = Turns(self._take)

    def close(self) -> None:
        """Let go of the database."""
        self.database.close()

    # --- jobs -----------------------------------------------------------------------------------------------

    def jobs(self) -> tuple[JobRow, ...]:
        """Return every job, the one changed last first."""
        with self.database.reading() as connection:
            rows = connection.execute(select(schema.job).order_by(schema.job.c.changed_at.desc())).mappings()
            return tuple(JobRow(**row) for row in rows)

    def row(self, job: str) -> JobRow | None:
        """Return one job's row, None if there is no such job."""
        with self.database.reading() as connection:
            return job_row(connection, job)

    def create(self, text: str, *, device: str, job: str | None = None) -> Outcome:
        """Start a job from the text of a job file; a job of that name that is there already stays as it is.

        Raises:  BadInput: every fault of the file
        """
        ident = job or new_id()
        made = {"id": digest(f"start of {ident}")[:32], "kind": "job.file", "made_at": now()}
        outcome = self.append(ident, [{**made, "payload": {"text": text}}], device=device, start=True)
        if outcome.refused:
            raise BadInput(*outcome.refused[0][1])
        return outcome

    def state(self, job: str) -> State:
        """Return a job as its events leave it.

        Raises:  KeyError: no such job
        """
        known = self._states.get(job)  # before the database is looked at: it cannot be ahead of it then
        with self.database.reading() as connection:
            row = job_row(connection, job)
            if row is None:
                raise KeyError(job)
            return self._state(connection, row, known)

    def _state(self, connection: Connection, row: JobRow, known: State | None) -> State:
        state = known
        if state is None:
            kept = connection.execute(
                select(schema.snapshot.c.state).where(schema.snapshot.c.job == row.id)
            ).scalar()
            state = State(job=row.id) if kept is None else state_of(json.loads(kept))
        if state.seq > row.seq:  # another process put an older copy of the database in its place
            self._states.pop(row.id, None)
            state = State(job=row.id)
        state = after_all(state, events_of(connection, row.id, after=state.seq))
        self._keep(state)
        return state

    def _keep(self, state: State) -> None:
        held = self._states.get(state.job)
        if held is not None and held.seq > state.seq:  # a slow reader comes after a writer
            return
        self._states.pop(state.job, None)
        self._states[state.job] = state
        while len(self._states) > _STATES_KEPT:
            self._states.pop(next(iter(self._states)), None)

    # --- events ---------------------------------------------------------------------------------------------

    def events(self, job: str, *, after: int = 0, most: int | None = None) -> tuple[Event, ...]:
        """Return a job's events after one of them, in order."""
        with self.database.reading() as connection:
            return tuple(events_of(connection, job, after=after, most=most))

    def append(
        self,
        job: str,
        raw: Iterable[object],
        *,
        device: str,
        check: Check = _nothing,
        note: Note = _unnoted,
        start: bool = False,
    ) -> Outcome:
        """Add events in the order given; what cannot be done is refused, and the rest is kept all the same.

        When this returns, what is named under `taken` is on the disk.

        Args:
            job:   its name
            raw:   as the client made them
            device: that sent them
            check: says what stands against an event besides the record itself
            note:  what the server knows of the matter, kept with the event
            start: the job need not be there yet
        Raises:  KeyError: no such job
        """
        asked = Asked(raw=list(raw), device=device, check=check, note=note, start=start)
        self._turns.wait(job, asked)
        return asked.outcome

    def _take(self, job: str, together: Sequence[Asked]) -> None:
        with self.database.writing() as connection:
            row = job_row(connection, job, lock=True)
            if row is None:
                if not together[0].start:
                    raise KeyError(job)
                row = JobRow(id=job, title="", units="in", invented=False, changed_at="", seq=0, head=GENESIS)
            first = state = self._state(connection, row, self._states.get(job))
            taking = _Taking(connection)
            sent = ((asked, raw) for asked in together for raw in asked.raw)
            for adding, group in groupby(sent, key=_is_add):
                each = list(group)
                state = taking.run(state, each) if adding else reduce(taking.one, each, state)
            if taking.taken:
                self._write(connection, state, taking.taken, new=first.seq == 0)
        for asked in together:
            asked.outcome.seq = state.seq
        if taking.taken:
            self._keep(state)

    def _write(self, connection: Connection, state: State, taken: list[Event], *, new: bool) -> None:
        document = state.document
        values = {
            "title": document.title,
            "units": document.units,
            "invented": document.invented,
            "changed_at": taken[-1].received_at,
            "seq": state.seq,
            "head": state.head,
        }
        if new:
            connection.execute(insert(schema.job).values(id=state.job, **values))
        else:
            connection.execute(update(schema.job).where(schema.job.c.id == state.job).values(**values))
        connection.execute(insert(schema.event), [event.row() for event in taken])
        before = state.seq - len(taken)
        if before // SNAPSHOT_EVERY != state.seq // SNAPSHOT_EVERY:
            _snapshot(connection, state)


_Sent = tuple[Asked, object]


@dataclass(slots=True)
class _Taking:
    """Events on their way in, in one transaction."""

    connection: Connection
    taken: list[Event] = field(default_factory=list)

    def run(self, state: State, sent: list[_Sent]) -> State:
        """Take several readings in at once; if anything is wrong with any, one by one."""
        if len(sent) > 1:
            try:
                return self._all(state, sent)
            except BadInput:
                pass
        return reduce(self.one, sent, state)

    def _all(self, state: State, sent: list[_Sent]) -> State:
        """Take all, none of them there yet.

        Raises:  BadInput: one of them is, or cannot be taken
        """
        events: list[Event] = []
        before = state.seq, state.head
        for asked, raw in sent:
            new = read_event(raw)
            if self._found(state.job, new) is not None or new.id in {event.id for event in events}:
                raise BadInput()
            events.append(self._event(asked, state, new, before))
            before = events[-1].seq, events[-1].hash
        state = after_adds(state, events)
        for (asked, _), event in zip(sent, events, strict=True):
            self._took(asked, event)
        return state

    def one(self, state: State, sent: _Sent) -> State:
        """Take one event in, or refuse it; return the state after it."""
        asked, raw = sent
        ident = raw.get("id") if isinstance(raw, dict) else None
        try:
            new = read_event(raw)
            if self._had(state.job, new):
                asked.outcome.had.append(new.id)
                return state
            event = self._event(asked, state, new, (state.seq, state.head))
            state = after(state, event)
        except BadInput as error:
            asked.outcome.refused.append((ident if isinstance(ident, str) else "", error.faults))
            return state
        self._took(asked, event)
        return state

    def _took(self, asked: Asked, event: Event) -> None:
        asked.outcome.taken.append(event)
        self.taken.append(event)

    def _event(self, asked: Asked, state: State, new: NewEvent, before: tuple[int, str]) -> Event:
        """Return a new event chained to the one before it, of that number and hash.

        Raises:  BadInput: something besides the record stands against it
        """
        faults = [*asked.check(state, new)]
        if faults:
            raise BadInput(*faults)
        return Event(
            job=state.job,
            seq=before[0] + 1,
            id=new.id,
            kind=new.kind,
            made_at=new.made_at,
            received_at=now(),
            device=asked.device,
            payload=new.payload,
            noted={**asked.note(state, new), **_of_photo(self.connection, new)},
            prev_hash=before[1],
        ).chained()

    def _found(self, job: str, new: NewEvent) -> tuple[str, str, str] | None:
        """Return job, kind and payload of the event that has this name already."""
        for taken in self.taken:
            if taken.id == new.id:
                return job, taken.kind, canonical(taken.payload)
        event = schema.event.c
        query = select(event.job, event.kind, event.payload).where(event.id == new.id)
        row = self.connection.execute(query).first()
        return None if row is None else (row.job, row.kind, row.payload)

    def _had(self, job: str, new: NewEvent) -> bool:
        """Is the event in the record already?

        Raises:  BadInput: another event of that name is
        """
        found = self._found(job, new)
        if found is not None and found != (job, new.kind, canonical(new.payload)):
            raise BadInput(fault("event.other_of_that_id", new.id))
        return found is not None


def _is_add(sent: _Sent) -> bool:
    return isinstance(sent[1], dict) and sent[1].get("kind") == "reading.add"


def job_row(connection: Connection, job: str, *, lock: bool = False) -> JobRow | None:
    """Return one job's row, None if there is no such job."""
    query = select(schema.job).where(schema.job.c.id == job)
    row = connection.execute(query.with_for_update() if lock else query).mappings().first()
    return None if row is None else JobRow(**row)


def events_of(
    connection: Connection, job: str, *, after: int = 0, most: int | None = None
) -> Iterator[Event]:
    """Yield a job's events after one of them, in order."""
    query = select(schema.event).where(schema.event.c.job == job, schema.event.c.seq > after)
    query = query.order_by(schema.event.c.seq).limit(most)
    for row in connection.execute(query).mappings():
        yield event_of(dict(row))


def _snapshot(connection: Connection, state: State) -> None:
    connection.execute(schema.snapshot.delete().where(schema.snapshot.c.job == state.job))
    row = {"job": state.job, "seq": state.seq, "state": json.dumps(state.data())}
    connection.execute(insert(schema.snapshot).values(**row))


def _of_photo(connection: Connection, new: NewEvent) -> Mapping[str, Any]:
    """Return the hash of the photo that an event brings in, so that the chain holds the picture too.

    Raises:  BadInput: the photo is not there
    """
    ident = new.payload.get("photo")
    if ident is None:
        return {}
    query = select(schema.photo.c.sha256).where(schema.photo.c.id == ident)
    found = connection.execute(query).scalar()
    if found is None:
        raise BadInput(fault("photo.not_there", ident))
    return {"photo_sha256": found}
