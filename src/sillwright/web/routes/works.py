"""Long work: start it, watch it, stop it, fetch what it made."""

from __future__ import annotations

import re

from fastapi import APIRouter, Response

from sillwright.web.faults import Refused, tell
from sillwright.web.models import WorkAsked, WorkFile, WorkNow, WorkStarted
from sillwright.web.service import Asking, Parts
from sillwright.web.work import KINDS
from sillwright.wording import fault

router = APIRouter()


@router.post("/api/jobs/{job}/work", status_code=202)
def start(job: str, asked: WorkAsked, _: Asking, service: Parts) -> WorkStarted:
    """Start a piece of work on a job as it stands."""
    if asked.kind not in KINDS:
        raise Refused(404, fault("work_fault.unknown", "kind", known=", ".join(KINDS)))
    state = service.state(job)
    title = re.sub(r"[^A-Za-z0-9]+", "-", state.document.title).strip("-").lower()[:60] or "job"
    photos = (
        [service.store.photos.get(job, each["photo"]) for each in state.photos]
        if asked.kind in ("handover", "record")
        else []
    )
    work = service.works.start(
        asked.kind, f"{title}-{asked.kind}.pdf", {"state": state.data(), "names": service.names()}, photos
    )
    return WorkStarted(work=work.id)


@router.get("/api/works/{ident}")
def watch(ident: str, _: Asking, service: Parts) -> WorkNow:
    """Say how far a piece of work is."""
    work = service.works.get(ident)
    file = work.file
    return WorkNow(
        work=work.id,
        kind=work.kind,
        state=work.state,
        done=work.done,
        of=work.of,
        step=work.step,
        faults=tell(work.faults),
        file=None if file is None else WorkFile(name=work.name, bytes=file.stat().st_size),
    )


@router.delete("/api/works/{ident}", status_code=204)
def cancel(ident: str, _: Asking, service: Parts) -> None:
    """Stop a piece of work."""
    service.works.cancel(ident)


@router.get(
    "/api/works/{ident}/file", response_class=Response, responses={200: {"content": {"application/pdf": {}}}}
)
def fetch(ident: str, _: Asking, service: Parts) -> Response:
    """Return what a piece of work made."""
    work = service.works.get(ident)
    if work.file is None:
        raise Refused(409, fault("work_fault.not_done", ident))
    headers = {"Content-Disposition": f'inline; filename="{work.name}"'}
    return Response(work.file.read_bytes(), media_type="application/pdf", headers=headers)
