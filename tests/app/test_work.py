"""The rest of the day: acts, holds, photos, notes, signatures, the job itself, long work."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image
from playwright.sync_api import expect
from tests.app.conftest import Lend
from tests.app.site import Site

GPS, MAKER = 0x8825, 0x010F


def jpeg(folder: Path) -> Path:
    """A photo with a position in it, larger than what is kept."""
    picture = Image.new("RGB", (3000, 2000), (120, 110, 90))
    exif = Image.Exif()
    exif.get_ifd(GPS)[1] = "N"
    exif[MAKER] = "Somebody"
    path = folder / "sill.jpg"
    picture.save(path, exif=exif)
    return path


def test_an_act_is_ticked_with_no_signal_and_opened_again(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job, "set").synced()
    phone.page.context.set_offline(True)
    box = phone.page.get_by_role("checkbox").first
    box.click()
    expect(box).to_have_attribute("aria-checked", "true")
    phone.page.context.set_offline(False)
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.synced()
    (done,) = [event for event in site.events(job) if event["kind"] == "act.done"]
    assert site.job(job)["folded"]["acts"][done["payload"]["act"]]["text"] == done["payload"]["text"]
    box.click()
    expect(phone.page.locator("#said")).to_contain_text("Opened again")
    phone.synced()
    assert site.job(job)["folded"]["acts"] == {}


def test_a_photo_taken_with_no_signal_arrives_small_and_without_its_position(
    site: Site, lend: Lend, job: str, tmp_path: Path
) -> None:
    phone = lend(site).open(job, "set").synced()
    page = phone.page
    page.context.set_offline(True)
    page.locator(".act-text").first.click()
    page.locator("dialog input[type=file]").set_input_files(jpeg(tmp_path))
    expect(page.locator("#said")).to_contain_text("Photo kept")
    assert phone.kept_here() == 2
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    phone.synced()
    (photo,) = site.job(job)["folded"]["photos"]
    answer = site.client.get(f"/api/jobs/{job}/photos/{photo['photo']}")
    picture = Image.open(io.BytesIO(answer.content))
    assert max(picture.size) == 2048
    assert not picture.getexif()


def test_the_position_of_a_photo_is_kept_where_somebody_chose_so(
    site: Site, lend: Lend, job: str, tmp_path: Path
) -> None:
    phone = lend(site).open(job, "set").synced()
    page = phone.page
    page.locator("header .sync").click()
    page.get_by_role("group", name="Where photos were taken").get_by_role("button", name="keep").click()
    page.go_back()
    phone.at("set")
    page.locator(".act-text").first.click()
    page.locator("dialog input[type=file]").set_input_files(jpeg(tmp_path))
    expect(page.locator("#said")).to_contain_text("Photo kept")
    phone.synced()
    (photo,) = site.job(job)["folded"]["photos"]
    answer = site.client.get(f"/api/jobs/{job}/photos/{photo['photo']}")
    exif = Image.open(io.BytesIO(answer.content)).getexif()
    assert exif.get_ifd(GPS) == {1: "N"}
    assert set(exif) == {GPS}


def test_a_hold_point_is_passed_only_by_a_tick_or_a_reason(site: Site, lend: Lend, job: str) -> None:
    holds = [b for b in site.screen(job, "proof")["blocks"] if b["kind"] == "hold" and b["state"] == "open"]
    assert holds
    phone = lend(site).open(job, "proof").synced()
    page = phone.page
    first = page.locator(f'.hold[data-place="{holds[0]["hold"]}"]')
    expect(first).to_contain_text("STOP")
    first.get_by_role("button", name="Go on without it").click()
    page.get_by_label("Why, and who says so?").fill("Inspector saw it on Monday")
    page.locator("dialog").get_by_role("button", name="Go on without it").click()
    expect(first).to_contain_text("Inspector saw it on Monday")
    phone.synced()
    assert site.job(job)["folded"]["holds"][holds[0]["hold"]]["how"] == "override"


def test_weather_notes_and_signatures_are_kept(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job, "days").synced()
    page = phone.page
    page.locator('[data-key="weather"]').click()
    page.get_by_label("What the weather does").fill("Rain from noon")
    page.locator("dialog").get_by_role("button", name="Keep").click()
    phone.go("proof")
    page.locator('[data-key="sign"]').click()
    for label, text in (("Name", "N. Nail"), ("Who you are", "carpenter"), ("What you sign for", "Pads")):
        page.locator("dialog").get_by_label(label).fill(text)
    page.locator("dialog").get_by_role("button", name="Sign").click()
    expect(page.locator("#said")).to_contain_text("N. Nail")
    phone.synced()
    folded = site.job(job)["folded"]
    assert [each["text"] for each in folded["weather"]] == ["Rain from noon"]
    assert [(each["name"], each["what"]) for each in folded["signs"]] == [("N. Nail", "Pads")]


def test_the_job_is_changed_without_its_file(site: Site, lend: Lend, job: str) -> None:
    desk = lend(site, "desk").open(job, "edit").synced()
    page = desk.page
    page.locator("summary", has_text="Each window or door").click()
    page.locator(".entry > summary", has_text="A").first.click()
    width = page.locator('[id="e-unit[0].frame_width"]')
    width.fill("35 7/17")
    width.blur()
    expect(page.locator(".heard.wrong", has_text="did you mean 35 7/16?")).to_be_visible()
    expect(width).to_have_value("35 7/17")  # what was typed stays, to be mended
    width.fill("35 1/4")
    width.blur()
    expect(page.locator("#said")).to_have_text("Kept on this phone")
    desk.synced()
    assert site.job(job)["document"]["unit"][0]["frame_width"] == "35 1/4"
    assert "# What you have to bring the sill up" in site.client.get(f"/api/jobs/{job}/file").text


def test_what_is_half_typed_outlives_news_from_the_other_phone(site: Site, lend: Lend, job: str) -> None:
    desk = lend(site, "desk").open(job, "edit").synced()
    note = desk.page.locator('[id="e-note"]')
    note.fill("Ask the ow")
    site.send(job, "note.add", {"place": "", "text": "from the truck"})
    desk.until("import('/static/state.js').then(({ state }) => state.base.folded.notes.length === 1)")
    expect(note).to_be_focused()
    desk.page.keyboard.type("ner")
    note.blur()
    expect(desk.page.locator("#said")).to_have_text("Kept on this phone")
    desk.synced()
    assert site.job(job)["document"]["note"] == "Ask the owner"


def test_a_job_file_comes_in_and_goes_out_unchanged(site: Site, lend: Lend, job: str, tmp_path: Path) -> None:
    text = site.client.get(f"/api/jobs/{job}/file").text
    file = tmp_path / "mine.toml"
    file.write_text(text.replace("Kitchen window, back wall", "Pantry window"), encoding="utf-8")
    desk = lend(site, "desk")
    desk.page.goto(f"{site.url}/#/")
    desk.page.get_by_label("Bring in a job file").set_input_files(file)
    desk.at("measure").synced()
    expect(desk.page.locator("header .title")).to_have_text("Pantry window")
    desk.page.locator('[data-key="edit"]').click()
    with desk.page.expect_download() as download:
        desk.page.get_by_role("link", name="Take out the job file").click()
    assert download.value.path().read_text(encoding="utf-8") == file.read_text(encoding="utf-8")


def test_a_job_file_with_faults_is_told_what_is_wrong(site: Site, lend: Lend, tmp_path: Path) -> None:
    file = tmp_path / "wrong.toml"
    file.write_text('sillwright = 1\ntitle = "x"\n[kit]\nshims = ["1/7"]\n', encoding="utf-8")
    desk = lend(site, "desk")
    desk.page.goto(f"{site.url}/#/")
    desk.page.get_by_label("Bring in a job file").set_input_files(file)
    expect(desk.page.locator("dialog .faults")).to_contain_text("1/7")
    expect(desk.page.locator("dialog .faults")).to_contain_text("shim_width")


def test_long_work_shows_how_far_it_is_and_gives_the_file(site: Site, lend: Lend, job: str) -> None:
    desk = lend(site, "desk").open(job, "proof").synced()
    desk.page.locator('[data-key="work-packet"]').click()
    link = desk.page.get_by_role("link", name="Open ")
    with desk.page.expect_download(timeout=60_000) as download:
        link.click(timeout=60_000)
    assert download.value.path().read_bytes().startswith(b"%PDF")


def test_long_work_can_be_stopped(site: Site, lend: Lend, job: str) -> None:
    desk = lend(site, "desk").open(job, "proof").synced()
    state = {"state": "running", "done": 1, "of": 9, "step": "Pads", "faults": [], "file": None}
    stopped: list[str] = []
    desk.page.route("**/api/jobs/*/work", lambda route: route.fulfill(status=202, json={"work": "w1"}))

    def answer(route) -> None:  # type: ignore[no-untyped-def]
        if route.request.method == "DELETE":
            stopped.append(route.request.url)
            route.fulfill(status=204)
        else:
            route.fulfill(
                json={**state, "work": "w1", "kind": "packet", "state": "cancelled" if stopped else "running"}
            )

    desk.page.route("**/api/works/w1", answer)
    desk.page.locator('[data-key="work-packet"]').click()
    bar = desk.page.get_by_role("progressbar", name="Pads")
    expect(bar).to_have_attribute("value", "1")
    desk.page.get_by_role("button", name="Stop it").click()
    expect(desk.page.get_by_text("Stopped.")).to_be_visible()
    assert len(stopped) == 1
