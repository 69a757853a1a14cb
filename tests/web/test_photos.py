"""Photos: kept upright and small, without the place they were taken at; nothing but pictures comes in."""

from __future__ import annotations

import hashlib
import io
import struct
import zlib
from typing import Any

import pytest
from httpx2 import Response
from PIL import Image, ImageStat
from tests.web.phones import Phone, event, faults

from sillwright.store import new_id
from sillwright.web.pictures import LARGEST_SIDE, SMALL_SIDE

GPS, ORIENTATION, MAKER = 0x8825, 0x0112, 0x010F
LATITUDE = {1: "N", 2: (47.0, 30.0, 0.0), 3: "W", 4: (122.0, 15.0, 0.0)}


def picture(size: tuple[int, int] = (400, 300), *, kind: str = "JPEG", **more: Any) -> bytes:
    """Return an invented photo, left half dark, right half light."""
    image = Image.new("RGB", size, (40, 40, 40))
    image.paste((220, 220, 220), (size[0] // 2, 0, *size))
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def with_position() -> bytes:
    """Return a photo as a phone takes it: lying on its side, with maker and position in it."""
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # to be turned a quarter clockwise
    exif[MAKER] = "Somebody"
    exif.get_ifd(GPS).update(LATITUDE)
    return picture(exif=exif)


def send(phone: Phone, job: str, data: bytes, **form: str) -> Response:
    """Send a photo."""
    fields = {"photo": new_id(), **form}
    files = {"file": ("photo.jpg", data, "image/jpeg")}
    return phone.client.post(f"/api/jobs/{job}/photos", data=fields, files=files)


def shown(phone: Phone, job: str, photo: str, query: str = "") -> Image.Image:
    """Return a photo as the server gives it."""
    answer = phone.client.get(f"/api/jobs/{job}/photos/{photo}{query}")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "image/webp"
    return Image.open(io.BytesIO(answer.content))


def brightness(image: Image.Image, top: int) -> float:
    """Return how light a strip of a photo is, 0 to 255."""
    return float(ImageStat.Stat(image.convert("L").crop((0, top, 300, top + 40))).mean[0])


@pytest.fixture
def job(phone: Phone) -> str:
    """A job to hang photos on; planning is no part of this."""
    return str(phone.client.post("/api/jobs", json={"starter": "blank"}).json()["job"])


def test_a_photo_stands_upright_and_its_position_is_gone(phone: Phone, job: str) -> None:
    answer = send(phone, job, with_position())
    assert answer.status_code == 201
    kept = answer.json()
    image = shown(phone, job, kept["photo"])
    assert image.size == (kept["width"], kept["height"]) == (300, 400)
    assert brightness(image, 20) < 80
    assert brightness(image, 340) > 180
    assert not image.getexif()
    assert b"Somebody" not in phone.client.get(f"/api/jobs/{job}/photos/{kept['photo']}").content


def test_the_position_stays_where_that_is_asked_for_and_nothing_else_does(phone: Phone, job: str) -> None:
    kept = send(phone, job, with_position(), keep_position="yes").json()
    exif = shown(phone, job, kept["photo"]).getexif()
    assert exif.get_ifd(GPS)[1] == "N"
    assert [float(each) for each in exif.get_ifd(GPS)[2]] == [47.0, 30.0, 0.0]
    assert MAKER not in exif
    assert not shown(phone, job, kept["photo"], "?small=1").getexif()


def test_a_large_photo_is_made_smaller(phone: Phone, job: str) -> None:
    kept = send(phone, job, picture((4000, 3000))).json()
    assert (kept["width"], kept["height"]) == (LARGEST_SIDE, LARGEST_SIDE * 3 // 4)
    assert kept["bytes"] < 400_000
    assert max(shown(phone, job, kept["photo"], "?small=1").size) == SMALL_SIDE


def test_a_photo_sent_twice_is_kept_once_and_another_under_its_name_refused(phone: Phone, job: str) -> None:
    name, data = new_id(), picture()
    assert send(phone, job, data, photo=name).status_code == 201
    again = send(phone, job, data, photo=name)
    assert again.status_code == 200
    assert (
        hashlib.sha256(phone.client.get(f"/api/jobs/{job}/photos/{name}").content).hexdigest()
        == again.json()["sha256"]
    )
    faults(send(phone, job, picture((200, 200)), photo=name), 400)


def test_a_photo_belongs_to_its_job_and_its_hash_to_the_record(phone: Phone, job: str) -> None:
    kept = send(phone, job, picture(kind="PNG")).json()
    phone.send(job, event("photo.add", photo=kept["photo"], place="pad.1", step="before"))
    noted = phone.get(f"/api/jobs/{job}/events?after=1")["events"][0]["noted"]
    assert noted["photo_sha256"] == kept["sha256"]
    other = phone.client.post("/api/jobs", json={"starter": "blank"}).json()["job"]
    faults(phone.client.get(f"/api/jobs/{other}/photos/{kept['photo']}"), 404)
    blocks = phone.screen(job, "proof")["blocks"]
    assert [block["photo"] for block in blocks if block["kind"] == "photo"] == [kept["photo"]]


def huge() -> bytes:
    """Return a PNG of few bytes that claims 20,000 by 20,000 pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", 20_000, 20_000, 8, 0, 0, 0, 0)
    pixels = zlib.compress(b"\x00" * 1000)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", pixels) + chunk(b"IEND", b"")


SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'


@pytest.mark.parametrize(
    ("data", "status"),
    [
        (b"", 415),
        (b"words, not a picture", 415),
        (SVG, 415),
        (picture(kind="GIF"), 415),
        (picture(kind="TIFF"), 415),
        (picture()[:300], 415),
        (huge(), 413),
    ],
    ids=["nothing", "words", "svg", "gif", "tiff", "torn", "a bomb"],
)
def test_what_is_no_photo_is_refused(phone: Phone, job: str, data: bytes, status: int) -> None:
    faults(send(phone, job, data), status)


def test_a_file_over_the_limit_is_refused_by_its_length(phone: Phone, job: str) -> None:
    faults(send(phone, job, b"\xff\xd8" + b"x" * (21 * 1024 * 1024)), 413)


@pytest.mark.parametrize(
    "form", [{"photo": "../../etc/passwd"}, {"photo": "A" * 32}, {"keep_position": "maybe"}], ids=str
)
def test_a_form_that_is_not_as_it_must_be_is_refused(phone: Phone, job: str, form: dict[str, str]) -> None:
    faults(send(phone, job, picture(), **form), 400)
    faults(send(phone, "nobody", picture()), 404)
