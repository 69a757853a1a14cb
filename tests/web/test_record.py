"""Events in, events out: through the server, with hold points, and as they come."""

from __future__ import annotations

import asyncio
import json
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from typing import Any

import pytest
import uvicorn
from fastapi.testclient import TestClient
from httpx2 import Client, Response
from tests.web.phones import BUNGALOW, CODE, MARK, Phone, event, faults

from sillwright.store import Store, new_id, verify
from sillwright.web import Settings, create_app
from sillwright.web.live import Hub, message
from sillwright.web.service import Service

WIDTH = {"opening": "A", "place": "middle", "value": "120 1/4"}


def acts(phone: Phone, job: str) -> list[dict[str, Any]]:
    """Return the lines of all acts on the screen Set."""
    blocks = phone.screen(job, "set")["blocks"]
    return [act for block in blocks if block["kind"] == "acts" for act in block["acts"]]


def holds(phone: Phone, job: str) -> dict[str, dict[str, Any]]:
    """Return the hold points on the screen Set by name."""
    return {block["hold"]: block for block in phone.screen(job, "set")["blocks"] if block["kind"] == "hold"}


def test_a_job_goes_in_and_comes_out_to_the_last_character(phone: Phone) -> None:
    job = phone.start()
    answer = phone.client.get(f"/api/jobs/{job}/file")
    assert answer.text == BUNGALOW
    assert answer.headers["content-type"].startswith("text/plain")
    assert ".toml" in answer.headers["content-disposition"]
    assert [row["job"] for row in phone.get("/api/jobs")["jobs"]] == [job]


def test_a_job_made_twice_under_one_name_is_one_job(phone: Phone) -> None:
    made = {"job": new_id(), "starter": "example", "units": "mm"}
    first, again = (phone.client.post("/api/jobs", json=made) for _ in range(2))
    assert (first.status_code, again.status_code) == (201, 201)
    assert first.json() == again.json() == {"job": made["job"], "seq": 1}
    assert len(phone.get("/api/jobs")["jobs"]) == 1


@pytest.mark.parametrize(
    "asked",
    [
        {},
        {"starter": "example", "text": BUNGALOW},
        {"starter": "palace"},
        {"starter": "blank", "openings": ["A", "A"]},
        {"starter": "blank", "openings": [" "]},
        {"starter": "blank", "more": 1},
        {"text": "sillwright = 1\n"},
        {"text": BUNGALOW.replace("sillwright = 1", "sillwright = 9", 1)},
        {"job": "x", "starter": "blank"},
    ],
    ids=lambda asked: str(asked)[:40],
)
def test_a_job_that_cannot_be_started_is_told_in_words(phone: Phone, asked: dict[str, Any]) -> None:
    assert faults(phone.client.post("/api/jobs", json=asked), 400)
    assert phone.get("/api/jobs")["jobs"] == []


def test_faults_of_a_job_file_name_the_line(phone: Phone) -> None:
    text = BUNGALOW.replace("shim_width", "shim_wide", 1)
    found = faults(phone.client.post("/api/jobs", json={"text": text}), 400)
    assert any(each["place"].startswith("line ") and "kit" in each["place"] for each in found)


def test_what_a_phone_sends_is_seen_by_another(phone: Phone) -> None:
    job = phone.start()
    added = event("reading.add", reading_id=new_id(), table="width", values=WIDTH)
    bad = event("reading.add", reading_id=new_id(), table="width", values={**WIDTH, "value": "wide"})
    told = phone.send(job, added, bad, added)
    assert (told["taken"], told["had"]) == ([added["id"]], [added["id"]])
    assert [each["id"] for each in told["refused"]] == [bad["id"]]
    assert told["refused"][0]["faults"][0]["place"] == "value"
    other = TestClient(phone.client.app, headers=MARK)
    other.post("/api/pair", json={"code": CODE, "name": "tablet"})
    now = other.get(f"/api/jobs/{job}").json()
    line = next(each for each in now["readings"] if each["reading_id"] == added["payload"]["reading_id"])
    assert line["values"]["value"] == "120 1/4"
    assert line["head"] == [added["id"]]
    assert (line["by_device"], line["state"]) == ("phone", "ok")
    listed = other.get(f"/api/jobs/{job}/events", params={"after": 1}).json()
    assert [each["id"] for each in listed["events"]] == [added["id"]]
    assert now["seq"] == listed["seq"] == 2


def test_a_reading_changes_the_plan_and_its_screens(phone: Phone) -> None:
    job = phone.start()
    before = phone.client.get(f"/api/jobs/{job}/screens/set")
    same = phone.client.get(f"/api/jobs/{job}/screens/set", headers={"If-None-Match": before.headers["etag"]})
    assert same.status_code == 304
    assert same.content == b""
    phone.send(job, event("reading.add", reading_id=new_id(), table="width", values=WIDTH))
    after = phone.client.get(
        f"/api/jobs/{job}/screens/set", headers={"If-None-Match": before.headers["etag"]}
    )
    assert after.status_code == 200
    assert after.json()["plan"] != before.json()["plan"]


def test_two_versions_of_a_reading_are_shown_to_all(phone: Phone) -> None:
    job = phone.start()
    reading = phone.get(f"/api/jobs/{job}")["readings"][0]
    base = reading["head"][0]
    for value in ("95 1/8", "95 1/4"):
        values = {"value": value}
        phone.send(job, event("reading.change", reading_id=reading["reading_id"], base=base, values=values))
    now = phone.get(f"/api/jobs/{job}")
    (conflict,) = now["folded"]["conflicts"]
    assert [each["values"]["value"] for each in conflict["versions"]] == ["95 1/8", "95 1/4"]
    assert [each["in_use"] for each in conflict["versions"]] == [True, False]
    for screen in ("measure", "proof"):
        kinds = [block["kind"] for block in phone.screen(job, screen)["blocks"]]
        assert kinds[0] == "conflict"


def test_an_act_waits_until_its_hold_points_are_passed(phone: Phone) -> None:
    job = phone.start()
    setting = next(act for act in acts(phone, job) if act["what"] == "set")
    assert set(setting["blocked_by"]) == {"readings", "pads", "sill"}
    done = event("act.done", act=setting["act"], text=setting["text"])
    refused = phone.send(job, done)["refused"][0]["faults"]
    assert {each["place"] for each in refused} == {"readings", "pads", "sill"}
    assert not phone.get(f"/api/jobs/{job}")["folded"]["acts"]
    photo = event("hold.tick", hold="sill", photo=new_id())
    assert phone.send(job, photo)["refused"], "a photo that never came"
    phone.send(job, event("hold.tick", hold="readings"), event("hold.tick", hold="sill"))
    assert {each["place"] for each in phone.send(job, done)["refused"][0]["faults"]} == {"pads"}
    phone.send(job, event("hold.override", hold="pads", reason="shot by the foreman with his own level"))
    assert phone.send(job, done)["taken"] == [done["id"]]
    shown = holds(phone, job)
    assert {name: each["state"] for name, each in shown.items() if each["state"] != "open"} == {
        "readings": "ticked",
        "sill": "ticked",
        "pads": "overridden",
    }
    assert shown["pads"]["reason"] == "shot by the foreman with his own level"
    assert shown["pads"]["device"] == "phone"
    assert setting["act"] in shown["pads"]["blocks"]
    line = next(act for act in acts(phone, job) if act["act"] == setting["act"])
    assert (line["state"], line["blocked_by"]) == ("done", [])
    phone.send(job, event("hold.undo", hold="sill"), event("act.undone", act=setting["act"]))
    assert phone.send(job, event("act.done", act=setting["act"], text=""))["refused"]


def test_an_act_that_changed_after_it_was_done_says_so_and_one_that_is_gone_is_told(phone: Phone) -> None:
    job = phone.start()
    phone.send(job, event("hold.tick", hold="readings"))
    pad = next(act for act in acts(phone, job) if act["what"] == "pad")
    gone = event("act.done", act="pad.A.999", text="Pad 1/8 at 999")
    phone.send(job, event("act.done", act=pad["act"], text="Pad 1 1/2 there"), gone)
    line = next(act for act in acts(phone, job) if act["act"] == pad["act"])
    assert (line["state"], line["done_text"]) == ("changed", "Pad 1 1/2 there")
    words = [block["text"] for block in phone.screen(job, "set")["blocks"] if block["kind"] == "words"]
    assert any("Pad 1/8 at 999" in text for text in words)


def test_pads_shot_again_and_found_right_need_no_tick(phone: Phone) -> None:
    job = phone.start()
    wall = phone.screen(job, "measure")["wall"]
    line = {name: each["z_in"] for each in wall["lines"] for name in each["openings"]}
    values = [{"place": "M1", "value": "40"}]
    values += [
        {"place": str(pad["number"]), "value": f"{40 - line[pad['opening']]!r}"} for pad in wall["pads"]
    ]
    shots = [
        event(
            "reading.add",
            reading_id=new_id(),
            table="mark" if n == 0 else "pad",
            values={"setup": "after", "setup_x": "100", "again": "yes", **each},
        )
        for n, each in enumerate(values)
    ]
    told = phone.send(job, *shots)
    assert not told["refused"]
    hold = holds(phone, job)["pads"]
    assert (hold["state"], hold["device"]) == ("ticked", "")


def test_local_amendments_travel_with_the_record(phone: Phone) -> None:
    job = phone.start()
    phone.send(job, event("job.set", path="code", value={"amendments": "town.toml"}))
    phone.send(job, event("job.set", path="code.amendments", value="town.toml"))
    if phone.screen(job, "set")["plan"] is not None:
        pytest.fail("the job names amendments that nobody sent")
    found = phone.screen(job, "set")["faults"]
    assert found[0]["place"] == "code.amendments"
    faults(phone.client.get(f"/api/jobs/{job}/why/pad.3"), 400)
    phone.send(job, event("amend.file", name="town.toml", text='title = "Town of Nowhere, ordinance 1"\n'))
    assert phone.screen(job, "set")["plan"]
    assert phone.get(f"/api/jobs/{job}")["folded"]["amendments"] == ["town.toml"]


def test_what_does_not_exist_is_told_apart(phone: Phone) -> None:
    job = phone.start()
    for path in (
        "/api/jobs/nobody",
        f"/api/jobs/{job}/screens/garden",
        f"/api/jobs/{job}/photos/x",
        "/nothing",
    ):
        faults(phone.client.get(path), 404)
    faults(phone.client.get(f"/api/jobs/{job}/why/pad.999"), 400)
    faults(
        phone.client.post("/api/jobs/nobody/events", json={"events": [event("job.file", text=BUNGALOW)]}), 404
    )
    faults(phone.client.put("/api/jobs"), 405)
    faults(phone.client.get(f"/api/jobs/{job}/events?after=-1"), 400)
    faults(phone.client.post(f"/api/jobs/{job}/events", json={"events": [{}] * 501}), 400)
    faults(phone.client.post(f"/api/jobs/{job}/events", content=b"{"), 400)
    faults(phone.client.post(f"/api/jobs/{job}/events", content=b"[" * 100_000), 400)


def test_what_is_too_large_is_refused_before_it_is_read(phone: Phone) -> None:
    job = phone.start()
    large = b'{"events": ["' + b"x" * 1_100_000 + b'"]}'
    path, headers = f"/api/jobs/{job}/events", {"Content-Type": "application/json"}
    faults(phone.client.post(path, content=large, headers=headers), 413)

    def unsaid() -> Iterator[bytes]:
        yield from (large[n : n + 50_000] for n in range(0, len(large), 50_000))

    faults(phone.client.post(path, content=unsaid(), headers=headers), 413)
    assert phone.get(f"/api/jobs/{job}")["seq"] == 1


def test_a_damaged_record_is_told_and_nothing_else(phone: Phone, tmp_path: Any) -> None:
    job = phone.start()
    service: Service = phone.client.app.state.service  # type: ignore[attr-defined]
    service.store._states.clear()
    service.store.close()
    file = tmp_path / "jobs.db"
    for each in tmp_path.glob("jobs.db-*"):
        each.unlink()
    file.write_bytes(b"not a database at all, whatever it was before" * 100)
    assert "restore" in faults(phone.client.get(f"/api/jobs/{job}"), 503)[0]["what"]


# --- live ---------------------------------------------------------------------------------------------------


@contextmanager
def running(db: Any) -> Iterator[str]:
    """A server on a port of its own, in a thread."""
    app = create_app(Settings(db=db, pairing_code=CODE))
    config = uvicorn.Config(app, host="127.0.0.1", port=0, log_level="error", timeout_graceful_shutdown=1)
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        assert thread.is_alive()
        time.sleep(0.01)
    yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    app.state.service.hub.end()
    server.should_exit = True
    thread.join()


def news(stream: Response) -> Iterator[tuple[str, str, Any]]:
    """Yield kind, id and data of each event of a stream."""
    kind, ident = "", ""
    for line in stream.iter_lines():
        if line.startswith("event: "):
            kind = line.removeprefix("event: ")
        elif line.startswith("id: "):
            ident = line.removeprefix("id: ")
        elif line.startswith("data: "):
            yield kind, ident, json.loads(line.removeprefix("data: "))
            kind, ident = "", ""


def test_another_phone_sees_a_reading_within_a_second(tmp_path: Any) -> None:
    with running(tmp_path / "jobs.db") as address:
        first, second = (Client(base_url=address, headers=MARK, timeout=20) for _ in range(2))
        for n, client in enumerate((first, second)):
            client.post("/api/pair", json={"code": CODE, "name": f"phone {n}"}).raise_for_status()
        job = first.post("/api/jobs", json={"text": BUNGALOW}).json()["job"]
        with second.stream("GET", f"/api/jobs/{job}/live?after=1") as stream:
            assert stream.headers["content-type"].startswith("text/event-stream")
            heard = news(stream)
            added = event("reading.add", reading_id=new_id(), table="width", values=WIDTH)
            start = time.monotonic()
            first.post(f"/api/jobs/{job}/events", json={"events": [added]}).raise_for_status()
            kind, ident, data = next(heard)
            assert time.monotonic() - start < 1.0
            assert (kind, ident, data["id"]) == ("taken", "2", added["id"])
            plan = first.get(f"/api/jobs/{job}/screens/set").json()["plan"]
            assert next(heard) == ("plan", "", {"seq": 2, "plan": plan})
        with second.stream("GET", f"/api/jobs/{job}/live", headers={"Last-Event-ID": "1"}) as stream:
            kind, ident, data = next(news(stream))
            assert (kind, ident, data["id"]) == ("taken", "2", added["id"])
        first.close()
        second.close()
    store = Store(tmp_path / "jobs.db")
    assert verify(store.database).whole
    store.close()


def test_a_stream_ends_when_the_server_does() -> None:
    async def follow() -> list[str]:
        hub = Hub()
        heard: list[str] = []

        async def listen() -> None:
            async for said in hub.follow("job", 0, lambda _: ()):
                heard.append(said)
                hub.end()

        await asyncio.wait_for(listen(), 5)
        return heard

    with ThreadPoolExecutor(1) as apart:  # this thread's loop may be that of a browser
        assert apart.submit(asyncio.run, follow()).result() == [": here\n\n"]


def test_a_message_is_of_the_standards_form() -> None:
    assert message("taken", {"a": "ä\nb"}, ident=4) == 'id: 4\nevent: taken\ndata: {"a": "ä\\nb"}\n\n'
