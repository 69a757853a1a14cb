"""Databases to test with: a new file for each test, and a real PostgreSQL server where one is installed."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.store.postgres import Server, find_server

from sillwright.store import Address, Store


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    yield from find_server()


@pytest.fixture(scope="session")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A record with its tables and nothing in them: making them takes longer than most tests."""
    file = tmp_path_factory.mktemp("empty") / "jobs.db"
    Store(file).close()
    return file


@pytest.fixture(params=["sqlite", "postgresql"])
def address(request: pytest.FixtureRequest, tmp_path: Path, empty: Path) -> Address:
    if request.param == "sqlite":
        shutil.copy(empty, tmp_path / "jobs.db")
        return tmp_path / "jobs.db"
    server: Server = request.getfixturevalue("server")
    return server.new_database()


@pytest.fixture
def store(address: Address) -> Iterator[Store]:
    opened = Store(address)
    yield opened
    opened.close()
