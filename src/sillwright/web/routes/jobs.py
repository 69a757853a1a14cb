"""Jobs: the list, a new one, one as it stands, its file."""

from __future__ import annotations

import re
from collections import Counter
from typing import Any

from fastapi import APIRouter, Response
from fastapi.responses import PlainTextResponse

from sillwright.job import job_schema
from sillwright.job.dump import job_data
from sillwright.store import JobRow, ReadingState, State
from sillwright.store.canonical import digest
from sillwright.web.faults import Refused
from sillwright.web.models import (
    Counts,
    JobAsked,
    JobLine,
    JobList,
    JobMade,
    JobNow,
    ReadingLine,
    Starter,
    StarterList,
)
from sillwright.web.service import Asking, Parts, Service
from sillwright.web.starters import blank, example
from sillwright.wording import fault, section

router = APIRouter()


@router.get("/api/jobs")
def jobs(_: Asking, service: Parts) -> JobList:
    """List all jobs, the one changed last first."""
    return JobList(jobs=[_line(service, row) for row in service.store.jobs()])


def _line(service: Service, row: JobRow) -> JobLine:
    return JobLine(
        job=row.id,
        title=row.title,
        seq=row.seq,
        changed_at=row.changed_at,
        units=row.units,
        invented=row.invented,
        findings=_counts(service, row.id),
    )


def _counts(service: Service, job: str) -> Counts | None:
    """Return how many findings are open, where the job was planned as it stands."""
    planned = service.planner.known(service.state(job))
    if planned is None or planned.plan is None:
        return None
    found = Counter(each.severity for each in planned.plan.findings if not each.answer)
    return Counts(stop=found["stop"], fix=found["fix"], watch=found["watch"])


@router.get("/api/starters")
def starters(_: Asking) -> StarterList:
    """List the ways to start a job."""
    return StarterList(
        starters=[
            Starter(starter=name, title=words["title"], what=words["what"])
            for name, words in section("starter").items()
        ]
    )


@router.post("/api/jobs", status_code=201)
def start(asked: JobAsked, device: Asking, service: Parts) -> JobMade:
    """Start a job from a job file or a starter."""
    if (asked.text is None) == (asked.starter is None):
        raise Refused(400, fault("request.two_ways", "starter"))
    if asked.text is not None:
        text = asked.text
    elif asked.starter == "blank":
        text = blank(asked.units, asked.title, asked.openings)
    else:
        text = example(asked.units, asked.title)
    outcome = service.store.create(text, device=device.id, job=asked.job)
    job = outcome.taken[0].job if outcome.taken else str(asked.job)
    service.hub.tell(job)
    return JobMade(job=job, seq=outcome.seq)


@router.get("/api/jobs/{job}")
def job_now(job: str, _: Asking, service: Parts) -> JobNow:
    """Return a job as it stands: its file as data, its readings, all that was entered."""
    state = service.state(job)
    names = service.names()
    return JobNow(
        job=state.job,
        seq=state.seq,
        title=state.document.title,
        units=state.document.units,
        text_sha256=digest(state.text),
        document=_plain(job_data(state.document)),
        readings=[_reading(reading, filed.cells, filed.label, names) for reading, filed in state.filed()],
        folded=folded(state, names),
    )


def _reading(reading: ReadingState, cells: Any, label: str, names: dict[str, str]) -> ReadingLine:
    used = reading.heads[0]
    return ReadingLine(
        reading_id=reading.id,
        table=reading.kind,
        values=dict(cells),
        path=reading.path,
        label=label,
        event=used.event,
        head=[head.event for head in reading.heads],
        by_device=names.get(used.device, used.device[:8]),
        made_at=used.at,
        state="conflict" if reading.disputed else "ok",
    )


def folded(state: State, names: dict[str, str]) -> dict[str, Any]:
    """Return all that was entered besides the job file, devices by their names."""

    def named(entry: dict[str, Any]) -> dict[str, Any]:
        return {**entry, "device": names.get(entry["device"], entry["device"][:8])}

    labels = {reading.id: filed.label for reading, filed in state.filed()}
    return {
        "acts": {key: named(entry) for key, entry in state.acts.items()},
        "holds": {key: named(entry) for key, entry in state.holds.items()},
        "notes": [named(entry) for entry in state.notes],
        "photos": [named(entry) for entry in state.photos],
        "signs": [named(entry) for entry in state.signs],
        "weather": [named(entry) for entry in state.weather],
        "answers": [_plain(answer.model_dump()) for answer in state.document.answer],
        "amendments": sorted(state.amendments),
        "conflicts": [
            {
                "reading_id": reading.id,
                "label": labels.get(reading.id, " ".join(reading.cells.values())),
                "versions": [
                    {
                        "event": head.event,
                        "at": head.at,
                        "device": names.get(head.device, head.device[:8]),
                        "values": head.values,
                        "in_use": n == 0,
                    }
                    for n, head in enumerate(reading.heads)
                ],
            }
            for reading in state.conflicts()
        ],
    }


def _plain(value: Any) -> Any:
    """Return a job's data as JSON has it: dates as text."""
    if isinstance(value, dict):
        return {key: _plain(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(each) for each in value]
    return value if isinstance(value, str | int | float | bool) or value is None else value.isoformat()


@router.get("/api/jobs/{job}/file", response_class=Response, responses={200: {"content": {"text/plain": {}}}})
def job_file(job: str, _: Asking, service: Parts) -> Response:
    """Return the job file, every character of it."""
    state = service.state(job)
    name = re.sub(r"[^A-Za-z0-9]+", "-", state.document.title).strip("-").lower()[:60] or "job"
    headers = {"Content-Disposition": f'attachment; filename="{name}.toml"'}
    return PlainTextResponse(state.text, headers=headers)


@router.get("/api/schema")
def schema(_: Asking) -> dict[str, Any]:
    """Return the JSON Schema of a job file."""
    return job_schema()
