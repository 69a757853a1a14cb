"""A phone as the server sees it: a client with a cookie, and events with ids of its own."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fastapi.testclient import TestClient
from httpx2 import Response

from sillwright.store import new_id, now

CODE = "7QK2-M4XD"
MARK = {"X-Sillwright": "1"}
EXAMPLES = Path(__file__).parents[2] / "examples"
BUNGALOW = (EXAMPLES / "bungalow-slider-and-fixed-lites.toml").read_text(encoding="utf-8")


def event(kind: str, **payload: Any) -> dict[str, Any]:
    """Return an event as a phone makes it."""
    return {"id": new_id(), "kind": kind, "made_at": now(), "payload": payload}


@dataclass(slots=True)
class Phone:
    """A paired client."""

    client: TestClient

    def get(self, path: str) -> Any:
        """Return the JSON of an answer that must be good."""
        answer = self.client.get(path)
        assert answer.status_code == 200, answer.text
        return answer.json()

    def start(self, text: str = BUNGALOW) -> str:
        """Start a job; return its name."""
        answer = self.client.post("/api/jobs", json={"text": text})
        assert answer.status_code == 201, answer.text
        return str(answer.json()["job"])

    def send(self, job: str, *events: dict[str, Any]) -> Any:
        """Send events; return what became of them."""
        answer = self.client.post(f"/api/jobs/{job}/events", json={"events": list(events)})
        assert answer.status_code == 200, answer.text
        return answer.json()

    def screen(self, job: str, name: str) -> Any:
        """Return a screen."""
        return self.get(f"/api/jobs/{job}/screens/{name}")


def faults(answer: Response, status: int) -> list[dict[str, str]]:
    """Return the faults of an answer that must be refused: one shape, in words."""
    assert answer.status_code == status, answer.text
    body = answer.json()
    assert set(body) == {"faults"}
    assert body["faults"]
    for each in body["faults"]:
        assert set(each) == {"place", "what", "fix"}
        assert each["what"]
    found: list[dict[str, str]] = body["faults"]
    return found
