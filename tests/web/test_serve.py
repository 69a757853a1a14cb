"""`sillwright serve` itself, as a process: started, paired with, read, stopped, and kept from starting."""

from __future__ import annotations

import hashlib
import ipaddress
import signal
import socket
import ssl
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from httpx2 import Client, ConnectError
from tests.store.postgres import Server, find_server
from tests.web.phones import BUNGALOW, MARK, event
from tests.web.served import Served, refused, served

from sillwright.store import Store, new_id, verify

LOCAL = ("--host", "127.0.0.1")


@contextmanager
def paired(server: Served, *, verify: ssl.SSLContext | bool = True) -> Iterator[Client]:
    with Client(base_url=server.address, headers=MARK, timeout=30, verify=verify) as client:
        client.post("/api/pair", json={"code": server.code, "name": "phone"}).raise_for_status()
        yield client


@pytest.fixture(scope="module")
def bungalow(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A server on this machine alone, with a job file to start from."""
    folder = tmp_path_factory.mktemp("serve")
    (folder / "wall.toml").write_text(BUNGALOW, encoding="utf-8")
    with served(folder, *LOCAL, "--job", "wall.toml") as server:
        yield server


def test_a_phone_pairs_with_what_the_terminal_shows_and_reads_the_job(bungalow: Served) -> None:
    with paired(bungalow) as phone:
        (job,) = phone.get("/api/jobs").json()["jobs"]
        assert job["title"] in BUNGALOW
        assert phone.get(f"/api/jobs/{job['job']}/file").text == BUNGALOW
        assert phone.get(f"/api/jobs/{job['job']}/screens/set").json()["plan"]
    assert "Record: sillwright.db" in bungalow.told
    assert any("Plain mode: keep the page open" in line for line in bungalow.told)


def test_the_terminal_shows_a_code_to_scan(bungalow: Served) -> None:
    """ISO/IEC 18004: a symbol of version V is 17 + 4 V modules a side; two rows share a line here."""
    square = [line for line in bungalow.told if {*line} & {*"█▀▄"}]
    assert len({len(line) for line in square}) == 1
    side = len(square[0]) - 4
    assert (side - 17) % 4 == 0
    assert 2 * len(square) - 4 in (side, side + 1)


def test_a_wrong_code_opens_nothing(bungalow: Served) -> None:
    with Client(base_url=bungalow.address, headers=MARK) as phone:
        answer = phone.post("/api/pair", json={"code": "AAAA-AAAA", "name": "x"})
        assert answer.status_code == 400
        assert phone.get("/api/jobs").status_code == 401


def test_a_taken_port_is_told(bungalow: Served, tmp_path: Path) -> None:
    code, said = refused(tmp_path, *LOCAL, "--port", str(bungalow.port))
    assert code == 1
    assert (
        f"127.0.0.1:{bungalow.port} cannot be used: Address already in use. Name another with --port." in said
    )
    assert not (tmp_path / "sillwright.db").exists()


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM], ids=["Ctrl+C", "the system"])
def test_it_stops_cleanly_with_a_phone_listening_and_goes_on_where_it_was(
    tmp_path: Path, how: signal.Signals
) -> None:
    (tmp_path / "wall.toml").write_text(BUNGALOW, encoding="utf-8")
    start = (*LOCAL, "--db", "mine.db", "--job", "wall.toml")
    with served(tmp_path, *start) as server, paired(server) as phone:
        (job,) = phone.get("/api/jobs").json()["jobs"]
        with phone.stream("GET", f"/api/jobs/{job['job']}/live") as live:
            assert live.status_code == 200
            note = event("note.add", place="", text="before it stopped")
            assert phone.post(f"/api/jobs/{job['job']}/events", json={"events": [note]}).json()["taken"]
            code, out, err = server.stop(how)
        assert (code, out, err) == (0, "Stopped. The record is closed.\n", "")
        with pytest.raises(ConnectError):
            phone.get("/api/jobs")
        cookies = phone.cookies
    store = Store(tmp_path / "mine.db")
    assert verify(store.database).whole
    store.close()
    with served(tmp_path, *start) as server:
        phone = Client(base_url=server.address, headers=MARK, cookies=cookies)
        (again,) = phone.get("/api/jobs").json()["jobs"]  # the file is not taken in twice
        phone.close()
    assert again["job"] == job["job"]
    assert again["seq"] == 2


def test_it_dies_hard_and_loses_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    (tmp_path / "wall.toml").write_text(BUNGALOW, encoding="utf-8")
    with served(tmp_path, *LOCAL, "--job", "wall.toml") as server, paired(server) as phone:
        (job,) = phone.get("/api/jobs").json()["jobs"]
        values = {"opening": "A", "place": "middle", "value": "95 1/4"}
        added = event("reading.add", reading_id=new_id(), table="width", values=values)
        told = phone.post(f"/api/jobs/{job['job']}/events", json={"events": [added]}).json()
        server.process.kill()
    store = Store(tmp_path / "sillwright.db")
    assert [each.id for each in store.events(job["job"])][1:] == told["taken"] == [added["id"]]
    assert verify(store.database).whole
    store.close()


@pytest.fixture(scope="module")
def postgres() -> Iterator[Server]:
    yield from find_server()


def test_a_firm_keeps_its_record_on_a_server(postgres: Server, tmp_path: Path) -> None:
    (tmp_path / "wall.toml").write_text(BUNGALOW, encoding="utf-8")
    url = postgres.new_database()
    with served(tmp_path, *LOCAL, "--db", url, "--job", "wall.toml") as server, paired(server) as phone:
        (job,) = phone.get("/api/jobs").json()["jobs"]
        values = {"opening": "A", "place": "middle", "value": "95 1/4"}
        added = event("reading.add", reading_id=new_id(), table="width", values=values)
        told = phone.post(f"/api/jobs/{job['job']}/events", json={"events": [added]}).json()
        assert told["taken"] == [added["id"]]
        assert phone.get(f"/api/jobs/{job['job']}/screens/measure").json()["seq"] == 2
        code, _, err = server.stop()
        assert (code, err) == (0, "")
    store = Store(url)
    assert [each.id for each in store.events(job["job"])][1:] == told["taken"]
    assert verify(store.database).whole
    store.close()
    assert list(tmp_path.iterdir()) == [tmp_path / "wall.toml"]


# --- trusted mode -------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def trusting(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Served, Path]]:
    folder = tmp_path_factory.mktemp("trust")
    with served(folder, *LOCAL, "--trust") as server:
        yield server, folder / "sillwright.trust"


def test_a_client_that_has_the_authority_reaches_it_over_tls(trusting: tuple[Served, Path]) -> None:
    server, folder = trusting
    assert urlsplit(server.address).scheme == "https"
    context = ssl.create_default_context(cafile=folder / "ca.pem")
    with paired(server, verify=context) as phone:
        me = phone.get("/api/me").json()
        assert me["trusted"]
        assert phone.cookies["sillwright"]
        assert phone.get("/").headers["strict-transport-security"]
    for name in ("127.0.0.1", "localhost"):
        plain = socket.create_connection(("127.0.0.1", server.port), timeout=20)
        with context.wrap_socket(plain, server_hostname=name) as wrapped:
            assert wrapped.version() == "TLSv1.3"


def test_a_client_without_it_is_warned(trusting: tuple[Served, Path]) -> None:
    server, _ = trusting
    bare = ssl.create_default_context()
    plain = socket.create_connection(("127.0.0.1", server.port), timeout=20)
    with plain, pytest.raises(ssl.SSLCertVerificationError, match="self-signed certificate"):
        bare.wrap_socket(plain, server_hostname="127.0.0.1")


def test_a_phone_gets_the_certificate_and_the_steps_on_a_plain_port(trusting: tuple[Served, Path]) -> None:
    server, folder = trusting
    with Client(base_url=server.trust) as phone:
        steps = phone.get("/")
        assert server.sha256 in steps.text
        assert server.address in steps.text
        assert "script" not in steps.text
        assert "strict-transport-security" not in steps.headers
        for asset in ("/static/app.css", "/drawing.css"):
            assert phone.get(asset).status_code == 200
        given = phone.get("/trust")
        assert given.headers["content-type"] == "application/x-x509-ca-cert"
        assert phone.get("/api/jobs").status_code == 404
    assert hashlib.sha256(given.content).hexdigest() == server.sha256
    assert ssl.PEM_cert_to_DER_cert((folder / "ca.pem").read_text()) == given.content


def test_on_the_wi_fi_the_page_has_a_name_and_the_certificate_a_number(tmp_path: Path) -> None:
    """A name outlives a new address; TLS is asked of names alone (RFC 6797, 8.1.1; from memory)."""
    with served(tmp_path, "--trust") as server:
        name = urlsplit(server.address).hostname or ""
        assert name.endswith(".local")
        with Client() as phone:
            assert server.address in phone.get(server.trust).text
        ipaddress.ip_address(urlsplit(server.trust).hostname or "")
        context = ssl.create_default_context(cafile=tmp_path / "sillwright.trust" / "ca.pem")
        plain = socket.create_connection(("127.0.0.1", server.port), timeout=20)
        with context.wrap_socket(plain, server_hostname=name) as wrapped:
            assert wrapped.version() == "TLSv1.3"


def test_a_spoilt_certificate_is_told(tmp_path: Path) -> None:
    folder = tmp_path / "sillwright.trust"
    folder.mkdir()
    (folder / "ca.pem").write_text("spoilt")
    (folder / "ca.key").write_text("spoilt")
    code, said = refused(tmp_path, *LOCAL, "--port", "0", "--trust")
    assert code == 1
    assert "sillwright.trust: the certificates in it are spoilt." in said
