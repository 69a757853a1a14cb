"""What stands before every request: size, origin, who is asking; and the headers of every answer."""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from sillwright.errors import Fault
from sillwright.web.faults import answer
from sillwright.wording import fault

COOKIE = "sillwright"
MARK = "x-sillwright"
"""Header that only our own page sends: a form on another site cannot."""
SAFE = ("GET", "HEAD", "OPTIONS")

MB = 1024 * 1024
LARGEST_PHOTO = 20 * MB
LARGEST_BODY = MB
"""Of every other request."""

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; "
        "form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "geolocation=(), microphone=(), camera=(self)",
}
"""Of every answer. Source: OWASP Secure Headers Project, as read in its published list (from memory)."""


class Guard:
    """Refuse what is too large or comes from elsewhere; put the headers on every answer."""

    def __init__(self, app: ASGIApp, *, trusted: bool) -> None:
        self.app = app
        # once a phone trusts the laptop it never again speaks to it in the clear
        self.headers = HEADERS | ({"Strict-Transport-Security": "max-age=31536000"} if trusted else {})

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or answer it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_on(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in self.headers.items():
                    headers.setdefault(name, value)
                if scope["path"].startswith("/api/"):
                    headers.setdefault("Cache-Control", "no-store")
            await send(message)

        found = _refusal(scope)
        if found is not None:
            status, what = found
            await answer(status, [what])(scope, receive, send_on)
            return
        await self.app(scope, _limited(scope, receive), send_on)


def _refusal(scope: Scope) -> tuple[int, Fault] | None:
    headers = Headers(scope=scope)
    if scope["method"] not in SAFE:
        if headers.get(MARK) != "1" or not _own_origin(headers):
            return 403, fault("request.elsewhere")
        length = headers.get("content-length", "")
        if length and (not length.isdigit() or int(length) > _most(scope)):
            return 413, fault("request.too_large")
    return None


def _own_origin(headers: Headers) -> bool:
    """Does the request come from a page of this server? Tools that name no origin may ask."""
    site = headers.get("sec-fetch-site")
    if site not in (None, "same-origin", "none"):
        return False
    origin = headers.get("origin")
    return origin is None or urlsplit(origin).netloc == headers.get("host")


def _most(scope: Scope) -> int:
    return LARGEST_PHOTO + MB // 4 if scope["path"].endswith("/photos") else LARGEST_BODY


def _limited(scope: Scope, receive: Receive) -> Receive:
    """Count a body as it comes in: a length may be left unsaid."""
    read = 0

    async def receive_some() -> Message:
        nonlocal read
        message = await receive()
        if message["type"] == "http.request":
            read += len(message.get("body", b""))
            if read > _most(scope):
                raise HTTPException(413)  # the framework passes on no other error while it reads a body
        return message

    return receive_some


class Limiter:
    """At most so many tries in a while, by a name and altogether."""

    def __init__(
        self, *, each: int, all_: int, seconds: float = 60.0, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self.each, self.all_, self.seconds, self.clock = each, all_, seconds, clock
        self._tries: deque[tuple[float, str]] = deque()

    def wait(self, name: str) -> float:
        """Return for how long the next try must wait [s]; 0: it may come."""
        now = self.clock()
        while self._tries and self._tries[0][0] <= now - self.seconds:
            self._tries.popleft()
        own = [at for at, who in self._tries if who == name]
        full = [own[-self.each]] if len(own) >= self.each else []
        if len(self._tries) >= self.all_:
            full.append(self._tries[-self.all_][0])
        return max((at + self.seconds - now for at in full), default=0.0)

    def tried(self, name: str) -> None:
        """Count a try."""
        self._tries.append((self.clock(), name))
