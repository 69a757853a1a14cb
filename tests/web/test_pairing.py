"""Only paired phones come in, from our own page, at a decent pace; and a phone can be shut out."""

from __future__ import annotations

from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from tests.web.phones import CODE, MARK, Phone, faults

from sillwright.store import Store
from sillwright.web import Settings, create_app, new_code
from sillwright.web.security import HEADERS, Limiter
from sillwright.web.settings import CODE_LENGTH, SIGNS

PRIVATE = [
    ("GET", "/api/me"),
    ("GET", "/api/devices"),
    ("DELETE", "/api/devices/x"),
    ("GET", "/api/jobs"),
    ("POST", "/api/jobs"),
    ("GET", "/api/starters"),
    ("GET", "/api/schema"),
    ("GET", "/api/jobs/x"),
    ("GET", "/api/jobs/x/file"),
    ("GET", "/api/jobs/x/events"),
    ("POST", "/api/jobs/x/events"),
    ("GET", "/api/jobs/x/live"),
    ("GET", "/api/jobs/x/screens"),
    ("GET", "/api/jobs/x/screens/measure"),
    ("GET", "/api/jobs/x/why/pad.1"),
    ("GET", "/api/jobs/x/whys"),
    ("POST", "/api/jobs/x/photos"),
    ("GET", "/api/jobs/x/photos/y"),
    ("POST", "/api/jobs/x/work"),
    ("GET", "/api/works/x"),
    ("DELETE", "/api/works/x"),
    ("GET", "/api/works/x/file"),
]
OPEN = {"/api/pair", "/api/words"}


def body(method: str, path: str) -> dict[str, object]:
    """Return a sound request, so that nothing but the missing cookie is wrong."""
    if method != "POST":
        return {}
    if path.endswith("/photos"):
        return {"data": {"photo": "0" * 32}, "files": {"file": ("a.jpg", b"x")}}
    bodies = {"/api/jobs": {"starter": "example"}, "/api/jobs/x/events": {"events": []}}
    return {"json": bodies.get(path, {"kind": "packet"})}


@pytest.mark.parametrize(("method", "path"), PRIVATE)
def test_without_pairing_nothing_is_told(client: TestClient, method: str, path: str) -> None:
    answer = client.request(method, path, **body(method, path))  # type: ignore[arg-type]
    assert faults(answer, 401)[0]["what"] == "the laptop does not know this phone."


def test_every_route_of_the_api_is_among_those_tried(client: TestClient) -> None:
    paths = set(client.app.openapi()["paths"])  # type: ignore[attr-defined]
    tried = {path.replace("/x/", "/{job}/").replace("/x", "/{job}") for _, path in PRIVATE}
    shape = {path.replace("{ident}", "{job}").replace("{name}", "measure") for path in paths - OPEN}
    shape = {path.replace("why/{job}", "why/pad.1").replace("{photo}", "y") for path in shape}
    assert shape <= tried
    assert "/api/jobs/{job}/live" in tried


def test_the_code_lets_a_phone_in_however_it_is_typed(client: TestClient) -> None:
    answer = client.post("/api/pair", json={"code": " 7qk2 m4xd", "name": "  phone \u202e in the\ttruck "})
    assert answer.status_code == 200
    assert answer.json()["name"] == "phone in the truck"
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie
    assert "Secure" not in cookie
    assert client.get("/api/me").json()["name"] == "phone in the truck"
    token = client.cookies["sillwright"]
    assert len(token) >= 43
    assert token not in repr(client.get("/api/devices").json())


def test_over_tls_the_cookie_stays_on_tls(tmp_path: Path) -> None:
    app = create_app(Settings(db=tmp_path / "a.db", pairing_code=CODE, ca_certificate=b"der"))
    with TestClient(app, base_url="https://laptop.local", headers=MARK) as client:
        answer = client.post("/api/pair", json={"code": CODE, "name": "phone"})
        assert "Secure" in answer.headers["set-cookie"]
        assert answer.headers["strict-transport-security"]
        assert client.get("/trust").content == b"der"
        assert client.get("/trust").headers["content-type"] == "application/x-x509-ca-cert"


def test_wrong_codes_are_slowed_down_and_the_right_one_then_too(client: TestClient) -> None:
    for _ in range(5):
        assert faults(client.post("/api/pair", json={"code": "AAAA-AAAA", "name": "x"}), 400)
    answer = client.post("/api/pair", json={"code": CODE, "name": "x"})
    assert faults(answer, 429)[0]["what"] == "too many wrong codes."
    assert 0 < int(answer.headers["retry-after"]) <= 60
    assert "set-cookie" not in answer.headers


def test_a_phone_without_a_name_is_asked_for_one(client: TestClient) -> None:
    assert (
        faults(client.post("/api/pair", json={"code": CODE, "name": " \u200b\t"}), 400)[0]["place"] == "name"
    )


def test_a_revoked_phone_is_out_at_once(phone: Phone) -> None:
    device = phone.get("/api/me")["device"]
    assert phone.get("/api/devices")["devices"][0]["this"]
    assert phone.client.delete("/api/devices/nobody").status_code == 404
    assert phone.client.delete(f"/api/devices/{device}").status_code == 204
    faults(phone.client.get("/api/jobs"), 401)


def test_a_token_is_not_what_is_stored(phone: Phone, tmp_path: Path) -> None:
    store = Store(tmp_path / "jobs.db")
    with store.database.reading() as connection:
        stored = connection.exec_driver_sql("SELECT token_sha256 FROM device").scalar()
    store.close()
    faults(TestClient(phone.client.app, cookies={"sillwright": str(stored)}).get("/api/me"), 401)


@pytest.mark.parametrize(
    "headers",
    [
        {"X-Sillwright": ""},
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": "http://laptop.local:8081"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
    ids=str,
)
def test_what_another_site_sends_is_refused(phone: Phone, headers: dict[str, str]) -> None:
    answer = phone.client.post("/api/jobs", json={"starter": "example"}, headers=headers)
    assert faults(answer, 403)
    assert phone.get("/api/jobs")["jobs"] == []
    assert faults(phone.client.delete("/api/devices/x", headers=headers), 403)


def test_our_own_page_may_send(phone: Phone) -> None:
    headers = {"Origin": "http://laptop.local:8080", "Sec-Fetch-Site": "same-origin"}
    assert phone.client.post("/api/jobs", json={"starter": "example"}, headers=headers).status_code == 201


@pytest.mark.parametrize("path", ["/", "/sw.js", "/static/app.js", "/api/jobs", "/nothing", "/trust"])
def test_every_answer_has_the_guarding_headers(phone: Phone, path: str) -> None:
    answer = phone.client.get(path)
    for name, value in HEADERS.items():
        assert answer.headers[name] == value
    policy = answer.headers["content-security-policy"]
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy
    assert "server" not in answer.headers


def test_refusals_have_them_too(client: TestClient) -> None:
    assert (
        client.post("/api/jobs", headers={"X-Sillwright": ""}).headers["x-content-type-options"] == "nosniff"
    )


class Clock:
    """Time as a test wants it."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


def test_tries_are_counted_by_name_and_altogether(clock: Clock) -> None:
    limiter = Limiter(each=2, all_=3, seconds=60.0, clock=clock)
    limiter.tried("a")
    clock.now = 10.0
    limiter.tried("a")
    assert limiter.wait("a") == 50.0
    assert limiter.wait("b") == 0.0
    limiter.tried("b")
    assert limiter.wait("c") == 50.0
    clock.now = 60.0
    assert limiter.wait("a") == 0.0
    assert limiter.wait("c") == 0.0


def test_codes_are_of_plain_signs_and_not_alike() -> None:
    codes = {new_code() for _ in range(50)}
    assert len(codes) == 50
    assert all(set(code) <= {*SIGNS, "-"} for code in codes)
    assert len(SIGNS) ** CODE_LENGTH > 5e11
    assert not set("0O1IL") & set(SIGNS)
