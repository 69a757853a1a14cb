"""Letting phones in, and shutting them out."""

from __future__ import annotations

import hmac
import math

from fastapi import APIRouter, Request, Response

from sillwright import __version__
from sillwright.web.faults import Refused
from sillwright.web.models import DeviceLine, DeviceList, Me, PairAsked, Paired
from sillwright.web.security import COOKIE
from sillwright.web.service import Asking, Parts
from sillwright.wording import fault

router = APIRouter()
YEAR = 365 * 24 * 3600


@router.post("/api/pair")
def pair(asked: PairAsked, request: Request, response: Response, service: Parts) -> Paired:
    """Let a phone in that knows the code on the laptop's screen."""
    who = request.client.host if request.client else ""
    wait = service.pairing.wait(who)
    if wait:
        seconds = math.ceil(wait)
        slow = fault("pairing.slow", seconds=seconds)
        raise Refused(429, slow, headers={"Retry-After": str(seconds)})
    if not hmac.compare_digest(_bare(asked.code).encode(), _bare(service.settings.pairing_code).encode()):
        service.pairing.tried(who)
        raise Refused(400, fault("pairing.wrong", "code"))
    name = " ".join("".join(sign if sign.isprintable() else " " for sign in asked.name).split())
    if not name:
        raise Refused(400, fault("pairing.no_name", "name"))
    device, token = service.store.devices.pair(name)
    secure = request.url.scheme == "https"
    response.set_cookie(
        COOKIE, token, max_age=YEAR, httponly=True, samesite="strict", secure=secure, path="/"
    )
    return Paired(device=device.id, name=device.name)


def _bare(code: str) -> str:
    return "".join(sign for sign in code.upper() if sign.isalnum())


@router.get("/api/me")
def me(device: Asking, service: Parts) -> Me:
    """Say who asks."""
    trusted = service.settings.ca_certificate is not None
    return Me(device=device.id, name=device.name, trusted=trusted, version=__version__)


@router.get("/api/devices")
def devices(device: Asking, service: Parts) -> DeviceList:
    """List every device that was ever let in."""
    return DeviceList(
        devices=[
            DeviceLine(
                device=each.id,
                name=each.name,
                paired_at=each.paired_at,
                seen_at=each.seen_at,
                revoked_at=each.revoked_at,
                this=each.id == device.id,
            )
            for each in service.store.devices.all()
        ]
    )


@router.delete("/api/devices/{ident}", status_code=204)
def revoke(ident: str, _: Asking, service: Parts) -> None:
    """Shut a device out at once."""
    if not service.store.devices.revoke(ident):
        raise Refused(404, fault("pairing.no_device", ident))
