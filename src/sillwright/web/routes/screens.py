"""Screens of a job, and why each number on them is what it is."""

from __future__ import annotations

from fastapi import APIRouter, Request, Response

from sillwright.explain import Explanation
from sillwright.web.blocks import Screen
from sillwright.web.faults import Refused
from sillwright.web.models import GivenLine, ScreenList, ScreenName, Why, Whys
from sillwright.web.screens import SCREENS, WET, screen
from sillwright.web.service import Asking, Parts
from sillwright.wording import fault, say

router = APIRouter()


@router.get("/api/jobs/{job}/screens")
def screens(job: str, _: Asking, service: Parts) -> ScreenList:
    """List the screens, in the order of the work."""
    service.state(job)
    return ScreenList(screens=[ScreenName(screen=name, title=say(f"screen.{name}")) for name in SCREENS])


@router.get(
    "/api/jobs/{job}/screens/{name}", response_model=Screen, responses={304: {"description": "the same"}}
)
def one_screen(
    job: str, name: str, request: Request, response: Response, _: Asking, service: Parts
) -> Screen | Response:
    """Return one screen: drawings and blocks, made from the plan."""
    if name not in SCREENS:
        raise Refused(404, fault("request.no_screen", name, known=", ".join(SCREENS)))
    view = service.view(job, water=name in WET)
    tag = f'"{name}-{view.state.seq}-{view.planned.fingerprint}"'
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers={"ETag": tag})
    response.headers["ETag"] = tag
    return screen(name, view)


@router.get("/api/jobs/{job}/why/{ident}")
def why(job: str, ident: str, _: Asking, service: Parts) -> Why:
    """Say why a number is what it is."""
    dry = service.view(job, water=False).planned
    planned = dry if dry.plan is None or ident in dry.idents else service.view(job).planned
    return _told(planned.why(ident))


@router.get("/api/jobs/{job}/whys")
def whys(job: str, _: Asking, service: Parts) -> Whys:
    """Return every answer of a plan at once, for where there is no signal."""
    planned = service.view(job).planned
    return Whys(
        plan=planned.fingerprint,
        whys={ident: _told(each) for ident, each in planned.whys().items()},
    )


def _told(explanation: Explanation) -> Why:
    return Why(
        id=explanation.ident,
        title=explanation.title,
        lines=list(explanation.answer),
        formula=explanation.formula,
        given=[GivenLine(name=each.name, value=each.value, why=each.ident) for each in explanation.given],
        source=explanation.source,
        see=list(explanation.see),
    )
