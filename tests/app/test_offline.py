"""Nothing that was kept is lost or doubled, whatever happens to network, server, tab and clock."""

from __future__ import annotations

from collections import Counter

from playwright.sync_api import Route, expect
from tests.app.conftest import Lend
from tests.app.site import Site

from sillwright.job.starter import starter


def ids(site: Site, job: str, kind: str = "") -> list[str]:
    return [event["id"] for event in site.events(job) if event["kind"].startswith(kind)]


def test_the_network_is_cut_before_a_reading_arrives(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job).synced()
    phone.page.route("**/events", lambda route: route.abort())
    phone.read(phone.spot("width", "middle"), "36 3/8")
    expect(phone.page.locator("header .sync.waiting")).to_be_visible()
    expect(phone.spot("width", "middle")).to_contain_text("36 ³⁄₈")
    assert site.values(job, "width", place="middle") == ["36 1/4"]
    phone.page.unroute("**/events")
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.synced()
    assert site.values(job, "width", place="middle") == ["36 3/8"]


def test_the_network_is_cut_after_it_arrived_and_before_the_answer(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job).synced()
    arrived: list[int] = []

    def swallow(route: Route) -> None:
        arrived.append(route.fetch().status)
        route.abort()

    phone.page.route("**/events", swallow, times=1)
    phone.read(phone.spot("diagonal", "bottom_left_to_top_right"), "60 9/16")
    while not arrived:
        phone.page.wait_for_timeout(20)
    assert arrived == [200]
    expect(phone.page.locator("header .sync.waiting")).to_be_visible()
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.synced()
    assert len(ids(site, job, "reading.change")) == 1
    assert site.values(job, "diagonal", place="bottom_left_to_top_right") == ["60 9/16"]


def test_the_server_is_killed_and_started_again(own_site: Site, lend: Lend) -> None:
    job = own_site.new_job(starter("in"))
    phone = lend(own_site).open(job).synced().trusted()
    own_site.stop()
    for place, reading in (("bottom", "36 1/2"), ("middle", "36 7/16"), ("top", "36 3/8")):
        phone.read(phone.spot("width", place), reading)
    expect(phone.page.locator("header .sync.waiting .sign")).to_have_text("3")
    phone.page.reload()  # the shell comes from the phone, the wall from its own store
    phone.at("measure")
    expect(phone.spot("width", "bottom")).to_contain_text("36 ¹⁄₂")
    own_site.start()
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.synced()
    assert [own_site.values(job, "width", place=p) for p in ("bottom", "middle", "top")] == [
        ["36 1/2"],
        ["36 7/16"],
        ["36 3/8"],
    ]
    assert max(Counter(ids(own_site, job)).values()) == 1


def test_a_server_that_hangs_keeps_nobody_waiting(own_site: Site, lend: Lend) -> None:
    job = own_site.new_job(starter("in"))
    phone = lend(own_site).open(job).synced().trusted()
    hung = own_site.hang()
    phone.read(phone.spot("width", "top"), "36 3/8")
    phone.page.reload(wait_until="commit")
    phone.at("measure")
    expect(phone.spot("width", "top")).to_contain_text("36 ³⁄₈")
    hung.release()
    own_site.start()
    phone.page.evaluate("dispatchEvent(new Event('online'))")
    phone.synced()
    assert own_site.values(job, "width", place="top") == ["36 3/8"]


def test_the_tab_is_killed_with_a_reading_on_its_way(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job).synced()
    phone.page.context.route("**/events", lambda route: route.abort())
    phone.read(phone.spot("height", "left"), "48 7/16")
    context = phone.page.context
    phone.page.close(run_before_unload=False)
    context.unroute("**/events")
    phone.page = context.new_page()
    phone.page.goto(site.url)  # no address kept: it opens where the work stopped
    phone.at("measure").synced()
    expect(phone.spot("height", "left")).to_contain_text("48 ⁷⁄₁₆")
    assert site.values(job, "height", place="left") == ["48 7/16"]


def test_a_clock_that_is_wrong_changes_no_order(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site)
    phone.page.clock.install(time="2031-01-01T00:00:00")
    phone.open(job).synced()
    phone.read(phone.spot("width", "middle"), "36 1/2")
    phone.synced()
    phone.page.clock.set_system_time("1999-06-30T12:00:00")
    phone.read(phone.spot("width", "middle"), "36 5/8")
    phone.synced()
    assert site.values(job, "width", place="middle") == ["36 5/8"]
    first, second = [event for event in site.events(job) if event["kind"] == "reading.change"]
    assert first["made_at"].startswith("2031")
    assert second["made_at"].startswith("1999")
    assert first["seq"] < second["seq"]
    assert second["payload"]["base"] == first["id"]


def test_a_thousand_queued_readings_arrive_once_and_in_order(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job).synced()
    phone.page.context.set_offline(True)
    made = phone.script(
        """
        const { view } = await import("/static/follow.js");
        const taped = view().readings.filter(({ table }) => table === "width" || table === "height");
        const heads = new Map(taped.map((reading) => [reading.reading_id, reading.head[0]]));
        const made = [];
        location.hash = "#/"; // a screen without drawings: a thousand of them would only take time
        for (let n = 0; n < 1000; n += 1) {
          const note = `n${n}`;
          const { reading_id, values } = taped[n % taped.length];
          const value = `${parseInt(values.value)} 1/4`;
          const change = { reading_id, base: heads.get(reading_id), values: { value, note } };
          const place = { opening: "A", place: "top_left", value: "5 1/2", note };
          const add = { reading_id: queue.freshId(), table: "thickness", values: place };
          const { id } = await (n % 10
            ? queue.keep(arg, "reading.change", change)
            : queue.keep(arg, "reading.add", add));
          if (n % 10) heads.set(reading_id, id);
          made.push(id);
        }
        return made;
        """,
        job,
    )
    assert len(set(made)) == 1000
    assert phone.kept_here() == 1000
    cut: list[int] = []

    def now_and_then(route: Route) -> None:  # every other batch arrives, but its answer does not
        cut.append(len(cut))
        if len(cut) % 2:
            route.fetch()
            route.abort()
        else:
            route.continue_()

    phone.page.route("**/events", now_and_then)
    phone.page.context.set_offline(False)
    for _ in range(40):
        phone.page.evaluate("dispatchEvent(new Event('online'))")
        if phone.script("await queue.flush(); return queue.waiting().length;") == 0:
            break
    assert ids(site, job, "reading") == made
    readings = site.job(job)["readings"]
    notes = [r["values"]["note"] for r in readings if r["table"] == "thickness"]
    assert notes == [f"n{n}" for n in range(0, 1000, 10)]
    last = {r["values"]["note"] for r in readings if r["table"] in ("width", "height")}
    assert last == {f"n{n}" for n in range(994, 1000)}
    assert not site.job(job)["folded"]["conflicts"]


def test_a_refused_reading_is_told_and_kept_until_thrown_away(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job).synced()
    phone.script(
        """const values = { opening: "Z", place: "top", value: "36" };
        await queue.keep(arg, "reading.add", { reading_id: queue.freshId(), table: "width", values });""",
        job,
    )
    phone.page.locator("header .sync.refused").click()
    expect(phone.page.locator(".finding.fix")).to_contain_text("Z")
    phone.page.get_by_role("button", name="Throw it away").click()
    phone.page.locator("dialog").get_by_role("button", name="Throw it away").click()
    expect(phone.page.locator(".finding.fix")).to_have_count(0)
    phone.synced()


def test_unsent_readings_can_be_copied_as_text_on_a_page_nobody_trusts(
    site: Site, lend: Lend, job: str
) -> None:
    phone = lend(site, paired=False)
    page = phone.page
    page.goto(f"{site.plain_url}/#pair=abcd efgh")
    page.get_by_label("Who is this?").fill("Pocket")
    page.get_by_role("button", name="Pair").click()
    page.get_by_role("link", name="Kitchen window").first.wait_for()
    page.goto(f"{site.plain_url}/#/j/{job}/measure")
    phone.at("measure").synced()
    assert page.evaluate("window.isSecureContext") is False
    expect(page.get_by_text("Keep this page open")).to_be_visible()
    page.context.set_offline(True)
    phone.read(phone.spot("width", "middle"), "36 9/16")
    page.locator("header .sync").click()
    unsent = page.get_by_role("textbox", name="Not sent yet")
    expect(unsent).to_have_value("A: width, middle changed to 36 9/16")
    page.get_by_role("button", name="Copy as text").click()
    expect(page.locator("#said")).to_have_text("Copied")
    page.locator("header .home").click()
    page.get_by_role("button", name="New wall").click()
    page.get_by_label("What is the job?").press("Control+v")
    expect(page.get_by_label("What is the job?")).to_have_value("A: width, middle changed to 36 9/16")
    page.keyboard.press("Escape")
    page.locator("header .sync").click()
    page.context.set_offline(False)
    page.get_by_role("button", name="Try to send now").click()
    phone.synced()
    assert site.values(job, "width", place="middle") == ["36 9/16"]
