"""Anything that the schema allows, and what it does not, sent to every route: no fault is the server's."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from fastapi import FastAPI
from fastapi.testclient import TestClient
from hypothesis import given, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)
from tests.web.phones import CODE, MARK

from sillwright.web import Settings, create_app
from sillwright.web.routes import ROUTERS

CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FastAPI]:
    app = create_app(Settings(db=tmp_path_factory.mktemp("fuzz") / "jobs.db", pairing_code=CODE))
    app.add_api_route("/openapi.json", app.openapi, include_in_schema=False)
    with TestClient(app):
        yield app


@pytest.fixture(scope="module")
def paired(app: FastAPI) -> dict[str, str]:
    client = TestClient(app, headers=MARK)
    client.post("/api/pair", json={"code": CODE, "name": "fuzz"}).raise_for_status()
    made = client.post("/api/jobs", json={"starter": "blank"}).json()
    return {"cookie": client.cookies["sillwright"], "job": made["job"]}


@pytest.fixture(scope="module")
def api(app: FastAPI) -> Any:
    return schemathesis.openapi.from_asgi("/openapi.json", app)


def operations() -> list[tuple[str, str]]:
    """Return method and path of everything in the schema."""
    bare = FastAPI()
    for router in ROUTERS:
        bare.include_router(router)
    return [(method, path) for path, each in bare.openapi()["paths"].items() for method in each]


@pytest.mark.parametrize(("method", "path"), operations())
def test_no_request_makes_the_server_fail(api: Any, paired: dict[str, str], method: str, path: str) -> None:
    headers = {**MARK, "Cookie": f"sillwright={paired['cookie']}"}
    told: list[int] = []

    @given(case=api[path][method.upper()].as_strategy())
    @settings(max_examples=12, deadline=None, derandomize=True, database=None)
    def one(case: Any) -> None:
        parameters = case.path_parameters or {}
        if "job" in parameters and len(str(parameters["job"])) % 4:
            parameters["job"] = paired["job"]
        answer = case.call(headers=headers)
        told.append(answer.status_code)
        case.validate_response(answer, checks=CHECKS)

    one()
    assert told
