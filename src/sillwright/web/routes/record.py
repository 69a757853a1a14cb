"""The record of a job: events in, events out, and as they come."""

from __future__ import annotations

from collections.abc import AsyncIterator
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import StreamingResponse

from sillwright.web.faults import Refused, tell
from sillwright.web.models import EventLine, EventList, EventsAsked, EventsTaken, RefusedEvent
from sillwright.web.service import Asking, Parts
from sillwright.wording import fault

router = APIRouter()
MOST_EVENTS = 500

After = Annotated[int, Query(ge=0, le=2**31 - 1)]


@router.post("/api/jobs/{job}/events")
def take(job: str, asked: EventsAsked, device: Asking, service: Parts) -> EventsTaken:
    """Take events in, in their order; what cannot be done is refused, the rest is kept all the same."""
    if len(asked.events) > MOST_EVENTS:
        raise Refused(400, fault("request.too_many", "events", most=MOST_EVENTS))
    outcome = service.append(job, asked.events, device.id)
    return EventsTaken(
        seq=outcome.seq,
        taken=[event.id for event in outcome.taken],
        had=outcome.had,
        refused=[RefusedEvent(id=ident, faults=tell(faults)) for ident, faults in outcome.refused],
    )


@router.get("/api/jobs/{job}/events")
def events(
    job: str,
    _: Asking,
    service: Parts,
    after: After = 0,
    limit: Annotated[int, Query(ge=1, le=MOST_EVENTS)] = MOST_EVENTS,
) -> EventList:
    """Return events after one of them."""
    state = service.state(job)
    found = service.store.events(job, after=after, most=limit)
    return EventList(seq=state.seq, events=[EventLine(**event.data()) for event in found])


@router.get("/api/jobs/{job}/live", include_in_schema=False)
async def live(job: str, request: Request, _: Asking, service: Parts, after: After = 0) -> StreamingResponse:
    """Send what comes in, as it comes."""
    service.state(job)
    last = request.headers.get("last-event-id", "")
    start = int(last) if last.isdigit() and len(last) < 10 else after

    async def stream() -> AsyncIterator[str]:
        async for said in service.hub.follow(job, start, lambda seq: service.store.events(job, after=seq)):
            yield said

    headers = {"Cache-Control": "no-store", "X-Accel-Buffering": "no"}
    return StreamingResponse(stream(), media_type="text/event-stream", headers=headers)
