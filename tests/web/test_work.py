"""Long work: in a process of its own, watched, stopped, fetched; and what the sheets say."""

from __future__ import annotations

import io
import json
import time
from typing import Any

import pytest
from pypdf import PdfReader
from tests.web.phones import BUNGALOW, Phone, event, faults
from tests.web.test_photos import picture, send

from sillwright.job import read_job
from sillwright.plan import plan
from sillwright.store import State, Store, new_id
from sillwright.web.holds import act_keys
from sillwright.web.service import Service
from sillwright.web.worker import work


def start(phone: Phone, job: str, kind: str) -> str:
    """Start a piece of work."""
    answer = phone.client.post(f"/api/jobs/{job}/work", json={"kind": kind})
    assert answer.status_code == 202, answer.text
    return str(answer.json()["work"])


def ended(phone: Phone, ident: str) -> dict[str, Any]:
    """Return a piece of work once it is at its end."""
    while True:
        now: dict[str, Any] = phone.get(f"/api/works/{ident}")
        if now["state"] not in ("waiting", "running"):
            return now
        time.sleep(0.05)


def read(data: bytes) -> str:
    """Return the words of a PDF."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages).split())


def test_work_is_done_apart_and_fetched_as_a_file(phone: Phone) -> None:
    job = phone.start()
    ident = start(phone, job, "handover")
    faults_now = phone.client.get(f"/api/works/{ident}/file")
    now = ended(phone, ident)
    assert (now["state"], now["done"], now["faults"]) == ("done", now["of"], [])
    assert now["file"]["name"].endswith("-handover.pdf")
    assert faults_now.status_code in (200, 409)
    answer = phone.client.get(f"/api/works/{ident}/file")
    assert answer.headers["content-type"] == "application/pdf"
    assert len(answer.content) == now["file"]["bytes"]
    assert "Handover" in read(answer.content)
    assert phone.client.delete(f"/api/works/{ident}").status_code == 204
    assert phone.get(f"/api/works/{ident}")["state"] == "done"


def test_work_that_is_stopped_stops(phone: Phone) -> None:
    job = phone.start()
    idents = [start(phone, job, "packet") for _ in range(4)]
    for ident in idents:
        assert phone.client.delete(f"/api/works/{ident}").status_code == 204
    service: Service = phone.client.app.state.service  # type: ignore[attr-defined]
    for ident in idents:
        assert phone.get(f"/api/works/{ident}")["state"] == "cancelled"
        faults(phone.client.get(f"/api/works/{ident}/file"), 409)
        process = service.works.get(ident).process
        assert process is None or process.wait(10) is not None


def test_work_without_a_plan_says_why(phone: Phone) -> None:
    job = phone.start(BUNGALOW)
    phone.send(job, event("job.set", path="code", value={"amendments": "town.toml"}))
    if phone.screen(job, "set")["plan"] is not None:
        phone.send(job, event("job.set", path="code.amendments", value="town.toml"))
    now = ended(phone, start(phone, job, "packet"))
    assert now["state"] == "failed"
    assert now["faults"][0]["place"] == "code.amendments"


def test_unknown_work_is_told(phone: Phone) -> None:
    job = phone.start()
    faults(phone.client.post(f"/api/jobs/{job}/work", json={"kind": "coffee"}), 404)
    faults(phone.client.post("/api/jobs/nobody/work", json={"kind": "packet"}), 404)
    for method in ("GET", "DELETE"):
        faults(phone.client.request(method, "/api/works/nobody"), 404)


def test_too_much_work_at_once_is_put_off(phone: Phone) -> None:
    job = phone.start()
    service: Service = phone.client.app.state.service  # type: ignore[attr-defined]
    service.works._room._value = 0
    idents = [start(phone, job, "form") for _ in range(20)]
    answer = phone.client.post(f"/api/jobs/{job}/work", json={"kind": "form"})
    assert faults(answer, 429)
    assert answer.headers["retry-after"]
    for ident in idents:
        phone.client.delete(f"/api/works/{ident}")
    service.works._room.release(2)


# --- what the sheets say ------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def lived(tmp_path_factory: pytest.TempPathFactory) -> State:
    """A job with something of everything in its record."""
    store = Store(tmp_path_factory.mktemp("lived") / "jobs.db")
    job = store.create(BUNGALOW, device="1" * 32).taken[0].job
    keys = act_keys(plan(read_job(BUNGALOW)))
    pad = next(key for key, act in keys.items() if act.kind == "pad")
    reading = next(iter(store.state(job).readings.values()))
    base = reading.heads[0].event
    store.append(
        job,
        [
            event("hold.tick", hold="readings"),
            event("hold.override", hold="sill", reason="seen by the owner's architect"),
            event("act.done", act=pad, text="Pad 1 inch"),
            event("act.done", act="set.A", text="Set the door"),
            event("act.done", act="water.pan.A", text="Pan on and rolled"),
            event("note.add", place="pad.3", text="soft wood under the felt"),
            event("weather.note", text="rain from noon"),
            event("sign", name="A. Nobody", role="carpenter", what="all of it"),
            event("reading.change", reading_id=reading.id, base=base, values={"value": "96"}),
            event("reading.change", reading_id=reading.id, base=base, values={"value": "97"}),
        ],
        device="1" * 32,
    )
    state = store.state(job)
    store.close()
    return state


def made(tmp_path: Any, state: State, kind: str, photos: dict[str, Any] | None = None) -> bytes:
    """Return what the worker makes, in this process."""
    file = tmp_path / "made.pdf"
    task = {
        "state": json.loads(json.dumps(state.data())),
        "names": {"1" * 32: "phone in the truck"},
        "photos": photos or {},
        "kind": kind,
        "file": str(file),
    }
    steps = list(work(task))
    assert [step["done"] for step in steps] == [0, 1, 2, 3]
    data: bytes = file.read_bytes()
    return data


def test_the_record_sheet_tells_all_and_names_the_chains_end(lived: State, tmp_path: Any) -> None:
    text = read(made(tmp_path, lived, "record"))
    found = plan(read_job(lived.text))
    for said in (
        lived.head[:20],
        "seen by the owner's architect",
        "passed without",
        "seen and right",
        "soft wood under the felt",
        "rain from noon",
        "A. Nobody",
        "phone in the truck",
        "Pad 1 inch no longer in the plan",
        "was: Set the door",
        "Pan on and rolled",
        "96, 97",
        found.fingerprint,
    ):
        assert said in text, said
    squeezed = text.replace(" ", "")
    for each in found.findings:
        assert each.message[:30].replace(" ", "").replace('"', "") in squeezed.replace('"', ""), each.message


def test_the_handover_tells_what_was_set_and_how_to_keep_it(lived: State, tmp_path: Any) -> None:
    text = read(made(tmp_path, lived, "handover"))
    assert "Invented demonstration data" in text
    assert "not ticked as set" in text
    assert "weep holes" in text
    assert "maker's instructions and warranty" in text


def test_the_form_needs_no_plan(tmp_path: Any) -> None:
    store = Store(tmp_path / "jobs.db")
    store.create(BUNGALOW, device="1" * 32, job="a" * 32)
    state = store.state("a" * 32)
    store.close()
    assert "Tape sheet" in read(made(tmp_path, state, "form"))


def test_photos_stand_on_the_sheets(phone: Phone) -> None:
    job = phone.start()
    sizes = {"pad.3": (800, 600), "hold sill": (600, 800), "opening.A": (900, 500)}
    for place, size in sizes.items():
        photo = send(phone, job, picture(size), photo=new_id()).json()["photo"]
        phone.send(job, event("photo.add", photo=photo, place=place, step=""))
    for kind in ("record", "handover"):
        now = ended(phone, start(phone, job, kind))
        assert now["state"] == "done", now
        reader = PdfReader(io.BytesIO(phone.client.get(f"/api/works/{now['work']}/file").content))
        images = [image for page in reader.pages for image in page.images]
        assert len(images) == 3
        assert {image.image.size for image in images if image.image} == {*sizes.values()}
