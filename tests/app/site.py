"""The server under test, in a thread: it can be killed, hung and started again on the same port."""

from __future__ import annotations

import socket
import threading
import time
import uuid
from pathlib import Path
from typing import Any

import httpx2
import uvicorn
from playwright.sync_api import BrowserContext

from sillwright.web import Settings, create_app

CODE = "ABCD-EFGH"
UNSAFE = {"X-Sillwright": "1"}


class Site:
    """One server on one port over one database."""

    def __init__(self, folder: Path) -> None:
        self.db = folder / "site.db"
        with socket.create_server(("127.0.0.1", 0)) as free:
            self.port: int = free.getsockname()[1]
        self._server: uvicorn.Server | None = None
        self._thread: threading.Thread | None = None
        self._client: httpx2.Client | None = None

    @property
    def url(self) -> str:
        return f"http://localhost:{self.port}"

    @property
    def plain_url(self) -> str:
        """The same by a name that no browser trusts without a certificate."""
        return f"http://phone.test:{self.port}"

    def start(self) -> None:
        app = create_app(Settings(db=self.db, pairing_code=CODE))
        config = uvicorn.Config(app, host="127.0.0.1", port=self.port, log_level="critical")
        self._server = uvicorn.Server(config)
        self._thread = threading.Thread(target=self._server.run, daemon=True)
        self._thread.start()
        deadline = time.monotonic() + 20
        while not self._server.started:
            assert self._thread.is_alive(), "the server did not start"
            assert time.monotonic() < deadline, "the server did not start in time"
            time.sleep(0.01)

    def stop(self) -> None:
        """Kill the server as it stands: open streams are cut."""
        if self._server is None or self._thread is None:
            return
        self._server.should_exit = self._server.force_exit = True
        self._thread.join(timeout=10)
        self._server = self._thread = None

    def close(self) -> None:
        """Stop the server and the client beside the browser."""
        self.stop()
        if self._client is not None:
            self._client.close()

    def hang(self) -> Hung:
        """Stop the server and put one in its place that accepts and never answers."""
        self.stop()
        return Hung(self.port)

    def pair(self, context: BrowserContext, name: str) -> None:
        answer = context.request.post(
            f"{self.url}/api/pair", data={"code": CODE, "name": name}, headers=UNSAFE
        )
        assert answer.ok, answer.text()

    @property
    def client(self) -> httpx2.Client:
        """A paired client beside the browser, to look at the store and to write like another device."""
        if self._client is None:
            self._client = httpx2.Client(base_url=self.url, headers=UNSAFE, timeout=30)
            self._client.post("/api/pair", json={"code": CODE, "name": "test"}).raise_for_status()
        return self._client

    def new_job(self, text: str) -> str:
        answer = self.client.post("/api/jobs", json={"job": uuid.uuid4().hex, "text": text})
        assert answer.status_code == 201, answer.text
        return str(answer.json()["job"])

    def job(self, job: str) -> dict[str, Any]:
        found: dict[str, Any] = self.client.get(f"/api/jobs/{job}").raise_for_status().json()
        return found

    def events(self, job: str) -> list[dict[str, Any]]:
        """Every event of a job in the order of the record."""
        found: list[dict[str, Any]] = []
        while True:
            after = found[-1]["seq"] if found else 0
            answer = self.client.get(f"/api/jobs/{job}/events", params={"after": after}).raise_for_status()
            if not answer.json()["events"]:
                return found
            found += answer.json()["events"]

    def send(self, job: str, kind: str, payload: dict[str, Any]) -> dict[str, Any]:
        """Write an event as another device would."""
        event = {"id": uuid.uuid4().hex, "kind": kind, "made_at": "2026-05-04T08:00:00Z", "payload": payload}
        answer = (
            self.client.post(f"/api/jobs/{job}/events", json={"events": [event]}).raise_for_status().json()
        )
        assert answer["taken"] == [event["id"]], answer
        return event

    def screen(self, job: str, name: str) -> dict[str, Any]:
        found: dict[str, Any] = self.client.get(f"/api/jobs/{job}/screens/{name}").raise_for_status().json()
        return found

    def values(self, job: str, table: str, **place: str) -> list[str]:
        """What was read at a place, in order."""
        return [
            str(reading["values"]["value"])
            for reading in self.job(job)["readings"]
            if reading["table"] == table and place.items() <= reading["values"].items()
        ]


class Hung:
    """A port that accepts connections and says nothing."""

    def __init__(self, port: int) -> None:
        self._socket = socket.create_server(("127.0.0.1", port))
        self._open: list[socket.socket] = []
        self._thread = threading.Thread(target=self._accept, daemon=True)
        self._thread.start()

    def _accept(self) -> None:
        while True:
            try:
                self._open.append(self._socket.accept()[0])
            except OSError:
                return

    def release(self) -> None:
        self._socket.shutdown(socket.SHUT_RDWR)  # wakes whoever waits in accept
        self._socket.close()
        self._thread.join(timeout=10)
        for each in self._open:
            each.close()
