"""From one event to the next state of a job. Each kind has one function; what it cannot do it refuses.

Whether an event can be applied is asked before it is stored, so every stored event can be.
"""

from __future__ import annotations

import datetime
import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import reduce
from itertools import groupby
from typing import Any

from sillwright.errors import BadInput
from sillwright.job import (
    KINDS,
    FiledReading,
    Job,
    add_reading,
    add_readings,
    append_entry,
    append_tables,
    change_reading,
    check_reading,
    drop_reading,
    filed_at,
    filed_readings,
    read_job,
    remove_value,
    set_value,
)
from sillwright.store.record import Event
from sillwright.store.state import ReadingState, State, Version
from sillwright.wording import fault

_INDEX = re.compile(r"\[(\d+)\]")


def after(state: State, event: Event) -> State:
    """Return the state after one more event; the state given stays as it was.

    Raises:  BadInput: the event cannot be applied to it, and why
    """
    if not state.text and event.kind != "job.file":
        raise BadInput(fault("event.no_file", "kind"))
    new = state.copy()
    _APPLY[event.kind](new, event)
    new.seq, new.head = event.seq, event.hash
    return new


# --- readings -----------------------------------------------------------------------------------------------


def _version(event: Event, values: Mapping[str, str] | None) -> Version:
    return Version(event=event.id, at=event.made_at, device=event.device, values=values)


def after_adds(state: State, events: Sequence[Event]) -> State:
    """Return the state after several readings were added: what `after` gives one by one, in less time.

    Raises:  BadInput: faults of the first that cannot be added
    """
    if not state.text:
        raise BadInput(fault("event.no_file", "kind"))
    new = state.copy()
    _add(new, *events)
    new.seq, new.head = events[-1].seq, events[-1].hash
    return new


def after_all(state: State, events: Iterable[Event]) -> State:
    """Return the state after events of any kind, each run of added readings taken at once.

    Raises:  BadInput: one cannot be applied to those before it
    """
    for adding, group in groupby(events, key=lambda event: event.kind == "reading.add"):
        run = tuple(group)
        state = after_adds(state, run) if adding else reduce(after, run, state)
    return state


def _add(state: State, *events: Event) -> None:
    known = set(state.readings)
    for event in events:
        ident, table = event.payload["reading_id"], event.payload["table"]
        if ident in known:
            raise BadInput(fault("reading.there", ident))
        if table not in KINDS:
            raise BadInput(fault("reading.no_table", ident, table=table, known=", ".join(KINDS)))
        known.add(ident)
    cells = [{"kind": event.payload["table"], **event.payload["values"]} for event in events]
    added = add_readings(state.text, cells, job=state.document)
    _put(state, added.text, added.job, added.moved)
    for event, filed in zip(events, added.readings, strict=True):
        ident = event.payload["reading_id"]
        state.readings[ident] = ReadingState(
            id=ident,
            path=filed.path,
            kind=event.payload["table"],
            cells=dict(filed.cells),
            heads=(_version(event, dict(event.payload["values"])),),
            known=frozenset({event.id}),
        )


def _change(state: State, event: Event) -> None:
    _revise(state, event, dict(event.payload["values"]))


def _drop(state: State, event: Event) -> None:
    _revise(state, event, None)


def _revise(state: State, event: Event, values: Mapping[str, str] | None) -> None:
    """Overrule the versions it is based on; one it did not know of stands against it, and stays in use."""
    ident, given = event.payload["reading_id"], event.payload["base"]
    reading = state.readings.get(ident)
    if reading is None:
        raise BadInput(fault("reading.unknown", ident))
    bases = {given} if isinstance(given, str) else set(given)
    if not bases <= reading.known:
        raise BadInput(fault("reading.unknown_base", ident))
    known = reading.known | {event.id}
    kept = tuple(head for head in reading.heads if head.event not in bases)
    same = any(head.values == values for head in kept)
    if same:  # two people said the same: nothing stands against anything
        state.readings[ident] = replace(reading, heads=kept, known=known)
        if kept[0] is not reading.heads[0]:
            _use(state, state.readings[ident], kept[0].values)
        return
    version = _version(event, values)
    if reading.heads[0].event in bases:
        revised = replace(reading, heads=(version, *kept), known=known)
        _use(state, revised, values)
    else:
        if values is not None:  # not used yet: where it would go is asked when it is
            kept_cells = {key: cell for key, cell in reading.cells.items() if key not in _SAID}
            check_reading({"kind": reading.kind, **kept_cells, **values}, unit=state.document.units)
        state.readings[ident] = replace(reading, heads=(*kept, version), known=known)


def _use(state: State, reading: ReadingState, values: Mapping[str, str] | None) -> None:
    """Bring the job file to what a version says."""
    if values is None and not reading.path:
        state.readings[reading.id] = reading
    elif values is None:
        dropped = drop_reading(state.text, reading.path, job=state.document)
        state.readings[reading.id] = replace(reading, path="")
        _put(state, dropped.text, dropped.job, dropped.moved)
    elif not reading.path:
        kept = {key: cell for key, cell in reading.cells.items() if key not in _SAID}
        back = add_reading(state.text, {"kind": reading.kind, **kept, **values}, job=state.document)
        _put(state, back.text, back.job, back.moved)
        cells = _cells_at(back.job, back.path)
        state.readings[reading.id] = replace(reading, path=back.path, cells=cells)
    else:
        changed = change_reading(state.text, reading.path, values, job=state.document)
        _put(state, changed.text, changed.job, {})
        cells = _cells_at(changed.job, reading.path)
        state.readings[reading.id] = replace(reading, cells=cells)


_SAID = ("value", "sd", "instrument", "by", "note")


def _cells_at(job: Job, path: str) -> Mapping[str, str]:
    return dict(filed_at(job, path).cells)


def _put(state: State, text: str, job: Job, moved: Mapping[str, str]) -> None:
    state.text, state.read = text, job
    for ident, reading in list(state.readings.items()):
        if reading.path in moved:
            state.readings[ident] = replace(reading, path=moved[reading.path])


# --- the rest of the job file -------------------------------------------------------------------------------


def _file(state: State, event: Event) -> None:
    """Take a whole file; a reading that is in it as it was keeps its name and its history."""
    text = event.payload["text"]
    job = read_job(text)
    old: dict[str, list[ReadingState]] = {}
    for reading in state.readings.values():
        if reading.path:
            old.setdefault(_key(reading.kind, reading.cells), []).append(reading)
    fresh: list[FiledReading] = []
    for filed in filed_readings(job):
        same = old.get(_key(filed.kind, filed.cells))
        if same:
            kept = same.pop(0)
            state.readings[kept.id] = replace(kept, path=filed.path)
        else:
            fresh.append(filed)
    for reading in [each for left in old.values() for each in left]:
        _gone(state, reading, event)
    for filed in fresh:
        ident = f"file:{filed.path}"
        if ident in state.readings:
            ident = f"file:{event.id[:8]}:{filed.path}"
        state.readings[ident] = ReadingState(
            id=ident,
            path=filed.path,
            kind=filed.kind,
            cells=dict(filed.cells),
            heads=(_version(event, dict(filed.cells)),),
            known=frozenset({event.id}),
        )
    state.text, state.read = text, job


def _gone(state: State, reading: ReadingState, event: Event) -> None:
    """Take a reading as taken out by this event; whoever changes an older version of it meets that."""
    known = reading.known | {event.id}
    state.readings[reading.id] = replace(reading, path="", heads=(_version(event, None),), known=known)


def _key(kind: str, cells: Mapping[str, str]) -> str:
    return repr((kind, sorted(cells.items())))


def _set(state: State, event: Event) -> None:
    path, value = event.payload["path"], _tomlable(event.payload["value"])
    _edit(state, path, lambda text: set_value(text, path, value))


def _append(state: State, event: Event) -> None:
    path, value = event.payload["path"], _tomlable(event.payload["value"])

    def grown(text: str) -> str:
        if path in Job.model_fields and isinstance(value, dict):
            return append_tables(text, path, [value])
        return append_entry(text, path, value)

    _edit(state, path, grown)


def _edit(state: State, path: str, change: Callable[[str], str]) -> None:
    """Change the file where it holds no readings."""
    text = _edited(state.text, path, change)
    job = read_job(text)
    if [_shown(each) for each in filed_readings(job)] != [
        _shown(each) for each in filed_readings(state.document)
    ]:
        raise BadInput(fault("job.readings_inside", path))
    state.text, state.read = text, job


def _edited(text: str, path: str, change: Callable[[str], str]) -> str:
    try:
        return change(text)
    except (KeyError, ValueError) as error:
        if isinstance(error, BadInput):
            raise
        raise BadInput(fault("job.no_place", path)) from None


def _shown(reading: FiledReading) -> tuple[str, str]:
    return reading.path, reading.cells["value"]


def _remove(state: State, event: Event) -> None:
    """Take out an entry or a key; readings inside go with it."""
    path = event.payload["path"]
    text = _edited(state.text, path, lambda text: remove_value(text, path))
    was = filed_readings(state.document)
    inside = [
        each.path for each in was if each.path == path or each.path.startswith((f"{path}.", f"{path}["))
    ]
    kept = [each for each in was if each.path not in inside]
    job = read_job(text)
    now = filed_readings(job)
    if Counter(each.cells["value"] for each in kept) != Counter(each.cells["value"] for each in now):
        raise BadInput(fault("job.readings_inside", path))
    for reading in list(state.readings.values()):
        if reading.path in inside:
            _gone(state, reading, event)
    _put(state, text, job, {old.path: new.path for old, new in zip(kept, now, strict=True)})


def _tomlable(value: Any) -> Any:
    """Return plain data as a job file can hold it.

    Raises:  BadInput: there is a null in it, which no job file has
    """
    if value is None:
        raise BadInput(fault("job.null", "value"))
    if isinstance(value, dict):
        return {key: _tomlable(each) for key, each in value.items()}
    return [_tomlable(each) for each in value] if isinstance(value, list) else value


def _answer(state: State, event: Event) -> None:
    payload = event.payload
    try:
        date = datetime.date.fromisoformat(payload["date"])
    except ValueError:
        raise BadInput(fault("event.date", "date", date=payload["date"])) from None
    said = {key: payload[key] for key in ("note", "value") if payload[key]}
    table = {"finding": payload["finding"], "by": payload["by"], "date": date, **said}
    _edit(state, "answer", lambda text: append_tables(text, "answer", [table]))


def _amend(state: State, event: Event) -> None:
    state.amendments[event.payload["name"]] = event.payload["text"]


# --- what was done ------------------------------------------------------------------------------------------


def _entry(event: Event) -> dict[str, Any]:
    said = {**event.payload, **event.noted}
    return {**said, "event": event.id, "at": event.made_at, "device": event.device}


def _done(state: State, event: Event) -> None:
    state.acts[event.payload["act"]] = _entry(event)


def _undone(state: State, event: Event) -> None:
    state.acts.pop(event.payload["act"], None)


def _held(how: str) -> Callable[[State, Event], None]:
    def hold(state: State, event: Event) -> None:
        state.holds[event.payload["hold"]] = {"photo": None, "reason": "", "how": how, **_entry(event)}

    return hold


def _unheld(state: State, event: Event) -> None:
    state.holds.pop(event.payload["hold"], None)


def _listed(name: str) -> Callable[[State, Event], None]:
    def add(state: State, event: Event) -> None:
        getattr(state, name).append(_entry(event))

    return add


_APPLY: dict[str, Callable[[State, Event], None]] = {
    "job.file": _file,
    "reading.add": _add,
    "reading.change": _change,
    "reading.drop": _drop,
    "job.set": _set,
    "job.add": _append,
    "job.drop": _remove,
    "answer.add": _answer,
    "amend.file": _amend,
    "act.done": _done,
    "act.undone": _undone,
    "note.add": _listed("notes"),
    "photo.add": _listed("photos"),
    "hold.tick": _held("tick"),
    "hold.override": _held("override"),
    "hold.undo": _unheld,
    "sign": _listed("signs"),
    "weather.note": _listed("weather"),
}
