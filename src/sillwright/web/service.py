"""What the routes share: the store, the plans, who is asking, what an event must meet besides its form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Annotated, Any

from fastapi import Depends, Request

from sillwright.errors import Fault
from sillwright.plan import fingerprint
from sillwright.store import LAPTOP, Device, NewEvent, Outcome, State, Store
from sillwright.web.faults import Refused
from sillwright.web.holds import holds_of, open_before
from sillwright.web.live import Hub
from sillwright.web.planning import Planner
from sillwright.web.screens import View
from sillwright.web.security import COOKIE, Limiter
from sillwright.web.settings import Settings
from sillwright.web.work import Works
from sillwright.wording import fault, say

SEEN_EVERY = 60.0
"""Seconds between notes that a device was heard of."""


@dataclass(slots=True, kw_only=True)
class Service:
    """One server's parts."""

    settings: Settings
    store: Store
    planner: Planner = field(default_factory=Planner)
    hub: Hub = field(default_factory=Hub)
    works: Works = field(default_factory=Works)
    pairing: Limiter = field(default_factory=lambda: Limiter(each=5, all_=30))
    seen: Limiter = field(default_factory=lambda: Limiter(each=1, all_=10_000, seconds=SEEN_EVERY))

    def state(self, job: str) -> State:
        """Return a job as it stands.

        Raises:  Refused: there is no such job
        """
        try:
            return self.store.state(job)
        except KeyError:
            raise Refused(404, fault("request.no_job", job)) from None

    def view(self, job: str, *, water: bool = True) -> View:
        """Return all that a job's screens are made from; without the water it comes at once."""
        state = self.state(job)
        planned = self.planner.of(state) if water else self.planner.dry(state)
        self.hub.planned(job, state.seq, planned.fingerprint)
        return View(state=state, planned=planned, names=self.names())

    def names(self) -> dict[str, str]:
        """Return the names of devices by id."""
        return {LAPTOP: say("device.laptop")} | {each.id: each.name for each in self.store.devices.all()}

    def append(self, job: str, raw: Sequence[object], device: str) -> Outcome:
        """Take events in, under the hold points of the job's plan, and tell everybody.

        Raises:  Refused: there is no such job
        """
        try:
            outcome = self.store.append(job, raw, device=device, check=self._check, note=self._note)
        except KeyError:
            raise Refused(404, fault("request.no_job", job)) from None
        if outcome.taken:
            self.hub.tell(job)
        return outcome

    def _check(self, state: State, event: NewEvent) -> Sequence[Fault]:
        """Return the hold points that an act still waits for."""
        if event.kind != "act.done" or not state.text:
            return ()
        plan = self.planner.dry(state).plan
        if plan is None:
            return ()
        kind = event.payload["act"].split(".")[0]
        waiting = open_before(kind, holds_of(state.document, plan), state, plan)
        return [fault("hold.closed", hold.hold, title=hold.title) for hold in waiting]

    def _note(self, state: State, event: NewEvent) -> Mapping[str, Any]:
        """Return which content of the job was signed or done."""
        if event.kind not in ("sign", "act.done", "hold.tick", "hold.override") or not state.text:
            return {}
        return {"job": fingerprint(state.document)}


async def service_of(request: Request) -> Service:
    """Return the server's parts."""
    service: Service = request.app.state.service
    return service


Parts = Annotated[Service, Depends(service_of)]


def device_of(request: Request, service: Parts) -> Device:
    """Return the device that asks.

    Raises:  Refused: its cookie is missing, unknown or revoked
    """
    token = request.cookies.get(COOKIE, "")
    device = service.store.devices.of(token) if token else None
    if device is None:
        raise Refused(401, fault("pairing.not_paired"))
    if not service.seen.wait(device.id):
        service.seen.tried(device.id)
        service.store.devices.seen(device.id)
    return device


Asking = Annotated[Device, Depends(device_of)]
