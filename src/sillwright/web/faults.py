"""Faults as they go over the wire: one shape, `{"faults": [{"place", "what", "fix"}]}`, for every error."""

from __future__ import annotations

from collections.abc import Iterable

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from pydantic import BaseModel
from starlette.exceptions import HTTPException

from sillwright.errors import BadInput, Fault, NotDetermined, OutOfRange, SillwrightError, StoreError
from sillwright.wording import fault


class ToldFault(BaseModel):
    """One thing wrong: where, what, what to do."""

    place: str
    what: str
    fix: str


class Faults(BaseModel):
    """Everything that is wrong with a request."""

    faults: list[ToldFault]


class Refused(Exception):
    """A request that is answered with faults."""

    def __init__(self, status: int, *faults: Fault, headers: dict[str, str] | None = None) -> None:
        super().__init__(status)
        self.status, self.faults, self.headers = status, faults, headers


def tell(faults: Iterable[Fault]) -> list[ToldFault]:
    """Return faults as they are sent; a line in a file stands in front of the place."""
    return [
        ToldFault(
            place=", ".join(
                part for part in ("" if each.line is None else f"line {each.line}", each.where) if part
            ),
            what=each.what,
            fix=each.advice,
        )
        for each in faults
    ]


def faults_of(error: SillwrightError) -> tuple[Fault, ...]:
    """Return what an error says as faults."""
    return error.faults if isinstance(error, BadInput) else (Fault("", str(error)),)


def answer(status: int, faults: Iterable[Fault], headers: dict[str, str] | None = None) -> JSONResponse:
    """Return the response that tells of faults."""
    return JSONResponse(Faults(faults=tell(faults)).model_dump(), status_code=status, headers=headers)


def add_handlers(app: FastAPI) -> None:
    """Answer every error of an app in the one shape."""
    app.add_exception_handler(Refused, _refused)
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(HTTPException, _by_status)
    for kind in (BadInput, OutOfRange, NotDetermined):
        app.add_exception_handler(kind, _bad)
    app.add_exception_handler(StoreError, _store)


async def _refused(_: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, Refused)  # noqa: S101  what the handler was registered for
    return answer(error.status, error.faults, error.headers)


async def _invalid(_: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, RequestValidationError)  # noqa: S101
    found = [
        fault("request.invalid", ".".join(str(step) for step in each["loc"]), reason=each["msg"])
        for each in error.errors()
    ]
    return answer(400, found)


async def _by_status(_: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, HTTPException)  # noqa: S101
    known = {404: "request.not_found", 405: "request.not_so", 413: "request.too_large"}
    name = known.get(error.status_code, "request.unusable")
    headers = dict(error.headers) if error.headers else None
    return answer(error.status_code, [fault(name)], headers)


async def _bad(_: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, SillwrightError)  # noqa: S101
    return answer(400, faults_of(error))


async def _store(_: Request, error: Exception) -> JSONResponse:
    return answer(503, [Fault("", str(error))])
