"""Running the server: where it listens, what the terminal shows, how it ends."""

from __future__ import annotations

import asyncio
import gc
import hashlib
import io
import os
import signal
import socket
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING

import segno
import uvicorn
from fastapi import FastAPI
from fastapi.responses import HTMLResponse, Response

from sillwright.errors import BadInput, OutputError
from sillwright.store import LAPTOP, Address, is_url, shown
from sillwright.web.addresses import local_addresses, own_names
from sillwright.web.app import create_app
from sillwright.web.routes import shell
from sillwright.web.security import Guard
from sillwright.web.service import Service
from sillwright.web.settings import Settings, new_code
from sillwright.wording import fault, say

if TYPE_CHECKING:
    from sillwright.web.trust import Trust

EVERYWHERE = ("0.0.0.0", "::")  # noqa: S104  what to listen on, not where
BACKLOG = 128
"""Phones that may wait at the door."""
PATIENCE = 0.0005
"""Seconds that a plan being made keeps a reading from being taken; ten times less than is usual."""
GRACE = 2
"""Seconds that open requests have when the server ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """What `sillwright serve` was asked for."""

    db: Address
    host: str
    port: int
    trust: bool
    job: str | None
    """Text of a job file to start with, if the record does not have it yet."""


class Server(uvicorn.Server):
    """A server whose live streams end when it is asked to stop."""

    def __init__(self, app: FastAPI, config: uvicorn.Config) -> None:
        super().__init__(config)
        self._service: Service = app.state.service

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Take Ctrl+C as a wish to stop, not as a fault."""
        if threading.current_thread() is not threading.main_thread():
            yield
            return
        before = {sig: signal.signal(sig, self.handle_exit) for sig in (signal.SIGINT, signal.SIGTERM)}
        try:
            yield
        finally:
            for sig, handler in before.items():
                signal.signal(sig, handler)

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """End the streams first: they would keep the server waiting."""
        self._service.hub.end()
        super().handle_exit(sig, frame)


def serve(options: Options, tell: Callable[[list[str]], None]) -> None:
    """Serve until stopped; `tell` shows lines on the terminal once the server can be reached.

    Raises:
        BadInput:    trusted mode cannot be had here; the job has faults
        OutputError: the port is taken
        StoreError:  the record cannot be used
    """
    made = _trust(options.db) if options.trust else None
    with _listen(options.host, options.port) as listening:
        _serve(options, made, listening, tell)


def _serve(
    options: Options, made: Trust | None, listening: socket.socket, tell: Callable[[list[str]], None]
) -> None:
    port: int = listening.getsockname()[1]
    settings = Settings(
        db=options.db, pairing_code=new_code(), ca_certificate=None if made is None else made.ca_der
    )
    app = create_app(settings)
    if options.job is not None:
        _take_in(app.state.service, options.job)
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        timeout_graceful_shutdown=GRACE,
        server_header=False,
        ssl_certfile=None if made is None else made.certificate,
        ssl_keyfile=None if made is None else made.key,
    )
    shown_host = _shown_host(options.host, made)
    address = f"{'http' if made is None else 'https'}://{shown_host}:{port}"
    lines = _lines(address, settings.pairing_code, options)
    if made is not None:
        plain = _serve_trust(app, options.host, address)
        # by its number: a phone that trusted the laptop before takes no plain answer under its name any more
        number = _shown_host(options.host, None)
        lines = [*_trust_lines(f"http://{number}:{plain}/", made), *lines]
    tell(lines)
    sys.setswitchinterval(PATIENCE)
    gc.freeze()  # what was loaded stays: looking through it again and again would make phones wait
    Server(app, config).run(sockets=[listening])


def _shown_host(host: str, made: Trust | None) -> str:
    """Return the host that phones are told: the one asked for, or the likeliest to reach this machine."""
    if host in EVERYWHERE:
        found = (*(each for each in local_addresses() if ":" not in each), "127.0.0.1")
        host = found[0] if made is None else made.names[0]
    return f"[{host}]" if ":" in host else host


def _listen(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # the protocol is named so that the server sees it is TCP, and sends an answer's two parts without a pause
    listening = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    if os.name == "posix":  # elsewhere it would share a port that another program holds
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen(BACKLOG)  # a phone that is told the address at once waits, and is not turned away
    except (OSError, OverflowError) as error:
        listening.close()
        reason = getattr(error, "strerror", None) or say("serve.no_port")
        raise OutputError(say("serve.port", host=host, port=port, reason=reason)) from None
    return listening


def _take_in(service: Service, text: str) -> None:
    """Start a job from a file, unless one of that very text was started before."""
    known = {service.store.events(row.id, most=1)[0].payload["text"] for row in service.store.jobs()}
    if text not in known:
        service.store.create(text, device=LAPTOP)


def _lines(address: str, code: str, options: Options) -> list[str]:
    lines = [
        say("serve.open", address=address),
        say("serve.code", code=code),
        "",
        *qr(f"{address}/#pair={code}"),
        "",
        say("serve.record", db=shown(options.db)),
    ]
    return (
        [*lines, say("serve.plain"), say("serve.stop")] if not options.trust else [*lines, say("serve.stop")]
    )


def qr(text: str) -> list[str]:
    """Return a QR code as lines for a terminal."""
    out = io.StringIO()
    segno.make(text, micro=False).terminal(out=out, compact=True, border=2)
    return out.getvalue().rstrip("\n").split("\n")


# --- trusted mode -------------------------------------------------------------------------------------------


def _trust(db: Address) -> Trust:
    try:
        from sillwright.web.trust import trusted  # noqa: PLC0415  its library may be missing
    except ImportError:
        raise BadInput(fault("serve.no_trust", "--trust")) from None
    folder = Path("sillwright-trust") if is_url(db) else Path(db).with_suffix(".trust")
    return trusted(folder, own_names())


def _serve_trust(app: FastAPI, host: str, address: str) -> int:
    """Serve the certificate, and the steps to trust it, on a plain port of its own; return the port."""
    service: Service = app.state.service
    plain = FastAPI(docs_url=None, redoc_url=None, openapi_url=None)
    plain.add_middleware(Guard, trusted=False)

    @plain.get("/")
    def steps() -> HTMLResponse:
        sha = hashlib.sha256(service.settings.ca_certificate or b"").hexdigest()
        return HTMLResponse(shell.rendered("trust.html", address=address, certificate_sha256=sha))

    @plain.get("/trust")
    def trust() -> Response:
        return shell.trust(service)

    for path, call in (
        ("/static/{path:path}", shell.static),
        ("/font/{name}", shell.font),
        ("/drawing.css", shell.drawing_looks),
    ):
        plain.add_api_route(path, call, response_model=None)
    listening = _listen(host, 0)
    config = uvicorn.Config(plain, log_level="warning", access_log=False, server_header=False)
    server = uvicorn.Server(config)
    threading.Thread(target=lambda: asyncio.run(server.serve([listening])), daemon=True).start()
    port: int = listening.getsockname()[1]
    return port


def _trust_lines(address: str, made: Trust) -> list[str]:
    sha = hashlib.sha256(made.ca_der).hexdigest()
    return [say("serve.trust", address=address), say("serve.certificate", sha256=sha), "", *qr(address), ""]
