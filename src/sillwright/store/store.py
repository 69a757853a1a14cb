"""The store: jobs as events that are only ever added to, with photos and paired devices beside them."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
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
from sillwright.store.fold import after, after_adds
from sillwright.store.kinds import NewEvent, read_event
from sillwright.store.naming import new_id, now
from sillwright.store.photos import Photos
from sillwright.store.record import GENESIS, Event, event_of
from sillwright.store.state import State, state_of
from sillwright.wording import fault

SNAPSHOT_EVERY = 20
"""Events after which a state is written down, so that a start reads few events again."""
_STATES_KEPT = 32

Check = Callable[[State, NewEvent], Sequence[Fault]]
Note = Callable[[State, NewEvent], Mapping[str, Any]]


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


@dataclass(slots=True, kw_only=True)
class Outcome:
    """What became of events that were sent."""

    seq: int = 0
    taken: list[Event] = field(default_factory=list)
    had: list[str] = field(default_factory=list)
    refused: list[tuple[str, tuple[Fault, ...]]] = field(default_factory=list)


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
        with self.database.reading() as connection:
            row = job_row(connection, job)
            if row is None:
                raise KeyError(job)
            return self._state(connection, row)

    def _state(self, connection: Connection, row: JobRow) -> State:
        state = self._states.get(row.id)
        if state is None:
            kept = connection.execute(
                select(schema.snapshot.c.state).where(schema.snapshot.c.job == row.id)
            ).scalar()
            state = State(job=row.id) if kept is None else state_of(json.loads(kept))
        if state.seq > row.seq:  # another process put an older copy of the database in its place
            state = State(job=row.id)
        for adding, group in groupby(events_of(connection, row.id, after=state.seq), key=_adds):
            events = tuple(group)
            state = after_adds(state, events) if adding else reduce(after, events, state)
        self._keep(state)
        return state

    def _keep(self, state: State) -> None:
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
        outcome = Outcome()
        with self.database.writing() as connection:
            row = job_row(connection, job, lock=True)
            if row is None:
                if not start:
                    raise KeyError(job)
                row = JobRow(id=job, title="", units="in", invented=False, changed_at="", seq=0, head=GENESIS)
            first = state = self._state(connection, row)
            taking = _Taking(connection, device, check, note, outcome)
            for adding, group in groupby(raw, key=_is_add):
                each = list(group)
                state = taking.run(state, each) if adding else reduce(taking.one, each, state)
            if outcome.taken:
                self._write(connection, state, outcome, new=first.seq == 0)
            outcome.seq = state.seq
        if outcome.taken:
            self._keep(state)
        return outcome

    def _write(self, connection: Connection, state: State, outcome: Outcome, *, new: bool) -> None:
        document = state.document
        values = {
            "title": document.title,
            "units": document.units,
            "invented": document.invented,
            "changed_at": outcome.taken[-1].received_at,
            "seq": state.seq,
            "head": state.head,
        }
        if new:
            connection.execute(insert(schema.job).values(id=state.job, **values))
        else:
            connection.execute(update(schema.job).where(schema.job.c.id == state.job).values(**values))
        connection.execute(insert(schema.event), [event.row() for event in outcome.taken])
        before = state.seq - len(outcome.taken)
        if before // SNAPSHOT_EVERY != state.seq // SNAPSHOT_EVERY:
            _snapshot(connection, state)


@dataclass(slots=True)
class _Taking:
    """Events on their way in, in one transaction."""

    connection: Connection
    device: str
    check: Check
    note: Note
    outcome: Outcome

    def run(self, state: State, raw: list[object]) -> State:
        """Take several readings in at once; if anything is wrong with any, one by one."""
        if len(raw) > 1:
            try:
                return self._all(state, raw)
            except BadInput:
                pass
        return reduce(self.one, raw, state)

    def _all(self, state: State, raw: list[object]) -> State:
        """Take all, none of them there yet.

        Raises:  BadInput: one of them is, or cannot be taken
        """
        events: list[Event] = []
        before = state.seq, state.head
        for each in raw:
            new = read_event(each)
            if self._found(state.job, new) is not None or new.id in {event.id for event in events}:
                raise BadInput()
            before = self._add(events, state, new, before)
        state = after_adds(state, events)
        self.outcome.taken += events
        return state

    def one(self, state: State, raw: object) -> State:
        """Take one event in, or refuse it; return the state after it."""
        ident = raw.get("id") if isinstance(raw, dict) else None
        try:
            new = read_event(raw)
            if self._had(state.job, new):
                self.outcome.had.append(new.id)
                return state
            events: list[Event] = []
            self._add(events, state, new, (state.seq, state.head))
            state = after(state, events[0])
        except BadInput as error:
            self.outcome.refused.append((ident if isinstance(ident, str) else "", error.faults))
            return state
        self.outcome.taken += events
        return state

    def _add(
        self, events: list[Event], state: State, new: NewEvent, before: tuple[int, str]
    ) -> tuple[int, str]:
        """Chain a new event to those before it; return where the chain ends now.

        Raises:  BadInput: something besides the record stands against it
        """
        faults = [*self.check(state, new)]
        if faults:
            raise BadInput(*faults)
        event = Event(
            job=state.job,
            seq=before[0] + 1,
            id=new.id,
            kind=new.kind,
            made_at=new.made_at,
            received_at=now(),
            device=self.device,
            payload=new.payload,
            noted={**self.note(state, new), **_of_photo(self.connection, new)},
            prev_hash=before[1],
        ).chained()
        events.append(event)
        return event.seq, event.hash

    def _found(self, job: str, new: NewEvent) -> tuple[str, str, str] | None:
        """Return job, kind and payload of the event that has this name already."""
        for taken in self.outcome.taken:
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


def _adds(event: Event) -> bool:
    return event.kind == "reading.add"


def _is_add(raw: object) -> bool:
    return isinstance(raw, dict) and raw.get("kind") == "reading.add"


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
