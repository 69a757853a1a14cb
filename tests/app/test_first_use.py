"""A new person, an own wall, five readings, and pads."""

from __future__ import annotations

import re

from playwright.sync_api import Route, expect
from tests.app.conftest import Lend
from tests.app.site import Site


def test_from_nothing_to_a_pad_schedule_with_five_readings(site: Site, lend: Lend) -> None:
    phone = lend(site, "small", paired=False)
    page = phone.page
    page.goto(f"{site.url}/#pair=ABCDEFGH")  # as the laptop's code to scan opens it
    page.get_by_label("Who is this?").fill("New hand")
    page.get_by_role("button", name="Pair").click()
    page.get_by_role("button", name="New wall").click()
    page.get_by_label("What is the job?").fill("Porch window")
    page.get_by_label("Unit, outside width").fill("35 3/8")
    page.get_by_label("Unit, outside height").fill("47")
    page.get_by_role("button", name="Start this wall").click()
    phone.at("measure").synced()
    first = page.locator("section", has_text="Read these first")
    first.get_by_role("button", name="A left jack from the wall mark").click()
    phone.type("30 1/8").keep()
    first.get_by_role("button", name="A width, bottom").click()
    phone.type("36 5/16").keep()
    first.get_by_role("button", name="A sill: 3 shots of the laser").click()
    page.get_by_role("button", name="Laser stands somewhere new").click()
    page.get_by_label("How far along the wall").fill("50")
    page.get_by_role("button", name="Stand here").click()
    sill = page.locator('.spot[data-ref^="sill|"][data-ref*="|outer|"]')
    for n, reading in enumerate(("26 3/16", "26 1/4", "26 5/16 strong")):
        phone.read(sill.nth(n), reading)
    phone.synced()
    expect(first).to_have_count(0)
    expect(page.locator("table.pads tbody tr")).to_have_count(3)
    phone.go("set").synced()
    pads = page.locator(".act-text", has_text=re.compile("^Pad "))
    expect(pads.first).to_be_visible()
    (job,) = [
        each["job"] for each in site.client.get("/api/jobs").json()["jobs"] if each["title"] == "Porch window"
    ]
    assert len(site.job(job)["readings"]) == 5


def test_what_is_typed_to_pair_outlives_a_late_answer(site: Site, lend: Lend) -> None:
    """On a weak signal the laptop says late that it does not know the phone."""
    page = lend(site, "small", paired=False).page
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/api/me", hold)
    page.goto(f"{site.url}/#pair=ABCDEFGH")
    page.get_by_label("Who is this?").press_sequentially("New ha")
    page.set_viewport_size({"width": 360, "height": 400})  # the phone's own keyboard comes up
    page.wait_for_timeout(100)
    expect(page.get_by_label("Who is this?")).to_be_focused()
    page.keyboard.type("nd")
    (asked,) = held
    late = asked.fetch()
    assert late.status == 401
    page.get_by_role("button", name="Pair").click()
    page.get_by_role("button", name="New wall").wait_for()
    asked.fulfill(response=late)
    page.wait_for_timeout(200)
    expect(page.get_by_role("button", name="New wall")).to_be_visible()
    assert "New hand" in {each["name"] for each in site.client.get("/api/devices").json()["devices"]}
