"""A site app with a paired phone, talked to in process."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from tests.web.phones import CODE, MARK, Phone

from sillwright.store import Store
from sillwright.web import Settings, create_app


@pytest.fixture(scope="session")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A record with its tables and nothing in them: making them takes longer than most tests."""
    file = tmp_path_factory.mktemp("empty") / "jobs.db"
    Store(file).close()
    return file


@pytest.fixture
def client(tmp_path: Path, empty: Path) -> Iterator[TestClient]:
    shutil.copy(empty, tmp_path / "jobs.db")
    app = create_app(Settings(db=tmp_path / "jobs.db", pairing_code=CODE))
    with TestClient(app, base_url="http://laptop.local:8080", headers=MARK) as opened:
        yield opened


@pytest.fixture
def phone(client: TestClient) -> Phone:
    client.post("/api/pair", json={"code": CODE, "name": "phone"}).raise_for_status()
    return Phone(client)
