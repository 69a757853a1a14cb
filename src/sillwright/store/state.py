"""A job as its events leave it: the text of its file, who says what of each reading, what was ticked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from typing import Any

from sillwright.job import FiledReading, Job, filed_readings, read_job
from sillwright.store.record import GENESIS

Entry = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """What one event says of a reading; no values: it was taken out."""

    event: str
    at: str
    device: str
    values: Mapping[str, str] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingState:
    """One reading: where it stands, and the versions that nothing has overruled, the one in use first."""

    id: str
    path: str
    """In the job file; empty while it is taken out."""
    kind: str
    cells: Mapping[str, str]
    """As it was last in the file."""
    heads: tuple[Version, ...]
    known: frozenset[str]
    """Every event that ever said something of it."""

    @property
    def disputed(self) -> bool:
        """Do two versions stand against each other?"""
        return len(self.heads) > 1


@dataclass(slots=True, kw_only=True)
class State:
    """All of a job after some number of its events."""

    job: str
    seq: int = 0
    head: str = GENESIS
    text: str = ""
    readings: dict[str, ReadingState] = field(default_factory=dict)
    acts: dict[str, Entry] = field(default_factory=dict)
    holds: dict[str, Entry] = field(default_factory=dict)
    notes: list[Entry] = field(default_factory=list)
    photos: list[Entry] = field(default_factory=list)
    signs: list[Entry] = field(default_factory=list)
    weather: list[Entry] = field(default_factory=list)
    amendments: dict[str, str] = field(default_factory=dict)
    read: Job | None = field(default=None, repr=False, compare=False)
    """The text as a checked job, once somebody asked."""

    def copy(self) -> State:
        """Return a state that can be changed without changing this one."""
        return replace(
            self,
            readings=dict(self.readings),
            acts=dict(self.acts),
            holds=dict(self.holds),
            notes=list(self.notes),
            photos=list(self.photos),
            signs=list(self.signs),
            weather=list(self.weather),
            amendments=dict(self.amendments),
        )

    @property
    def document(self) -> Job:
        """Return the text as a checked job."""
        if self.read is None:
            self.read = read_job(self.text)
        return self.read

    def filed(self) -> tuple[tuple[ReadingState, FiledReading], ...]:
        """Return the readings that stand in the file, in its order, each with its state."""
        by_path = {reading.path: reading for reading in self.readings.values() if reading.path}
        return tuple((by_path[each.path], each) for each in filed_readings(self.document))

    def conflicts(self) -> tuple[ReadingState, ...]:
        """Return the readings of which two versions stand against each other."""
        return tuple(reading for reading in self.readings.values() if reading.disputed)

    def data(self) -> dict[str, Any]:
        """Return all of it as plain data, to be written down and read back by `state_of`."""
        plain = {each.name: getattr(self, each.name) for each in fields(self) if each.name != "read"}
        return {**plain, "readings": {key: _reading(each) for key, each in self.readings.items()}}


def _reading(reading: ReadingState) -> dict[str, Any]:
    """Return a reading as plain data; written out, since copying a thousand of them deep takes long."""
    return {
        "id": reading.id,
        "path": reading.path,
        "kind": reading.kind,
        "cells": reading.cells,
        "heads": [
            {"event": head.event, "at": head.at, "device": head.device, "values": head.values}
            for head in reading.heads
        ],
        "known": sorted(reading.known),
    }


def state_of(plain: Mapping[str, Any]) -> State:
    """Return the state that `data` gave."""
    readings = {
        key: ReadingState(
            **{
                **each,
                "heads": tuple(Version(**version) for version in each["heads"]),
                "known": frozenset(each["known"]),
            }
        )
        for key, each in plain["readings"].items()
    }
    return State(**{**plain, "readings": readings})
