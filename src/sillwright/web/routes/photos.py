"""Photos of a job: in, and out again."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, File, Form, Response, UploadFile

from sillwright.web.faults import Refused
from sillwright.web.models import Ident, PhotoKept
from sillwright.web.pictures import kept_photo
from sillwright.web.security import LARGEST_PHOTO
from sillwright.web.service import Asking, Parts
from sillwright.wording import fault

router = APIRouter()


@router.post("/api/jobs/{job}/photos", status_code=201, responses={200: {"model": PhotoKept}})
def send(
    job: str,
    photo: Annotated[Ident, Form()],
    file: Annotated[UploadFile, File()],
    response: Response,
    _: Asking,
    service: Parts,
    keep_position: Annotated[Literal["yes", "no"], Form()] = "no",
) -> PhotoKept:
    """Keep a photo, made smaller; where it was taken is left out unless that is asked for."""
    data = file.file.read(LARGEST_PHOTO + 1)
    if len(data) > LARGEST_PHOTO:
        raise Refused(413, fault("request.too_large", "file"))
    made = kept_photo(data, job=job, ident=photo, keep_position=keep_position == "yes")
    try:
        new = service.store.photos.put(made)
    except KeyError:
        raise Refused(404, fault("request.no_job", job)) from None
    response.status_code = 201 if new else 200
    return PhotoKept(
        photo=photo, width=made.width, height=made.height, bytes=len(made.data), sha256=made.sha256
    )


@router.get(
    "/api/jobs/{job}/photos/{photo}",
    response_class=Response,
    responses={200: {"content": {"image/webp": {}}}},
)
def show(job: str, photo: str, _: Asking, service: Parts, small: bool = False) -> Response:
    """Return a photo."""
    try:
        kept = service.store.photos.get(job, photo)
    except KeyError:
        raise Refused(404, fault("request.no_photo", photo)) from None
    headers = {"Cache-Control": "private, max-age=31536000, immutable"}
    return Response(kept.small if small else kept.data, media_type="image/webp", headers=headers)
