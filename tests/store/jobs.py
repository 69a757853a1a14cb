"""Jobs and events to fill a store with."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from sillwright.job import starter
from sillwright.store import Outcome, Store, new_id, now

STARTER = starter("in")
EXAMPLE = (Path(__file__).parents[2] / "examples" / "bungalow-slider-and-fixed-lites.toml").read_text(
    encoding="utf-8"
)
PHONE, OTHER = "1" * 32, "2" * 32


def event(kind: str, **payload: Any) -> dict[str, Any]:
    """Return an event as a client makes it."""
    return {"id": new_id(), "kind": kind, "made_at": now(), "payload": payload}


def started(store: Store, text: str = STARTER) -> str:
    """Return a new job's name."""
    return store.create(text, device=PHONE).taken[0].job


def sent(store: Store, job: str, *events: dict[str, Any], device: str = PHONE) -> Outcome:
    """Add events that must all be taken."""
    outcome = store.append(job, events, device=device)
    assert not outcome.refused, outcome.refused
    return outcome


def width(value: str, **more: Any) -> dict[str, Any]:
    """Return a new reading of the middle width of opening A."""
    cells = {"opening": "A", "place": "middle", "value": value, **more}
    return event("reading.add", reading_id=new_id(), table="width", values=cells)
