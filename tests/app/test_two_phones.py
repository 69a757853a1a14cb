"""Two devices at one wall: each sees the other, and neither swallows what the other said."""

from __future__ import annotations

from playwright.sync_api import expect
from tests.app.conftest import Lend
from tests.app.site import Site


def test_a_reading_on_one_shows_on_the_other(site: Site, lend: Lend, job: str) -> None:
    one = lend(site, "phone", name="one").open(job).synced()
    other = lend(site, "desk", name="other").open(job).synced()
    one.read(one.spot("width", "middle"), "36 11/16")
    expect(other.spot("width", "middle")).to_contain_text("36 ¹¹⁄₁₆")


def test_two_changes_of_one_reading_are_both_shown_until_someone_settles_it(
    site: Site, lend: Lend, job: str
) -> None:
    one = lend(site, "phone", name="Ladder").open(job).synced()
    other = lend(site, "small", name="Truck").open(job).synced()
    one.page.context.set_offline(True)
    other.page.context.set_offline(True)
    one.read(one.spot("width", "bottom"), "36 3/8")
    other.read(other.spot("width", "bottom"), "36 1/2")
    one.page.context.set_offline(False)
    one.page.evaluate("dispatchEvent(new Event('online'))")
    one.synced()
    other.page.context.set_offline(False)
    other.page.evaluate("dispatchEvent(new Event('online'))")
    other.synced()
    for hand in (one, other):
        conflict = hand.page.locator(".conflict")
        expect(conflict).to_contain_text("36 ³⁄₈")
        expect(conflict).to_contain_text("36 ¹⁄₂")
        expect(conflict).to_contain_text("Ladder")
        expect(conflict).to_contain_text("Truck")
    one.page.locator(".conflict").get_by_role("button", name="36 ¹⁄₂").click()
    for hand in (one, other):
        expect(hand.page.locator(".conflict")).to_have_count(0)
        expect(hand.spot("width", "bottom")).to_contain_text("36 ¹⁄₂")
    assert site.values(job, "width", place="bottom") == ["36 1/2"]


def test_a_phone_that_was_locked_out_keeps_what_it_has(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site, name="Lost").open(job).synced()
    devices = site.client.get("/api/devices").json()["devices"]
    (lost,) = [each["device"] for each in devices if each["name"] == "Lost" and not each["revoked_at"]]
    site.client.delete(f"/api/devices/{lost}").raise_for_status()
    phone.read(phone.spot("width", "top"), "36 3/16")
    expect(phone.page.locator("header .sync.waiting")).to_be_visible()
    assert site.values(job, "width", place="top") == ["36 5/16"]
    site.pair(phone.page.context, "Found")
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.synced()
    assert site.values(job, "width", place="top") == ["36 3/16"]
