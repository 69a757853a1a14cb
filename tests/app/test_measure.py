"""At the wall: tap the spot, type what the tape says, see what it does."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from tests.app.conftest import Lend
from tests.app.site import Site

from sillwright.job.starter import starter
from sillwright.lengths import parse


def test_a_tap_on_the_drawing_and_the_keypad_change_a_reading(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site, "small").open(job)
    phone.read(phone.spot("width", "middle"), "36 5/16 strong")
    phone.synced()
    assert site.values(job, "width", opening="A", place="middle") == ["36 5/16 strong"]
    (change,) = [event for event in site.events(job) if event["kind"] == "reading.change"]
    assert change["payload"]["reading_id"] == "file:opening[0].width.middle"


def test_strong_and_shy_can_be_put_on_what_is_there(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job)
    phone.spot("width", "top").click()
    said = phone.page.get_by_label("The reading")
    expect(said).to_have_value("36 5/16")
    phone.type("shy")
    expect(said).to_have_value("36 5/16 shy")
    phone.page.get_by_label("Take back").click()
    phone.page.get_by_label("Take back").click()
    expect(said).to_have_value("36")
    phone.type("7")  # a digit goes on from what the hand has begun
    expect(said).to_have_value("367")


def test_the_first_digit_begins_a_reading_anew(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job)
    phone.spot("width", "top").click()
    phone.type("37 1/2")
    expect(phone.page.get_by_label("The reading")).to_have_value("37 1/2")


def test_the_keyboard_alone_takes_a_reading(site: Site, lend: Lend, job: str) -> None:
    desk = lend(site, "desk").open(job)
    desk.spot("height", "centre").focus()
    desk.page.keyboard.press("Enter")
    expect(desk.page.get_by_label("The reading")).to_be_focused()
    desk.page.keyboard.press("Control+a")
    desk.page.keyboard.type("4' 3/16\"")
    desk.page.keyboard.press("Enter")
    expect(desk.page.locator("dialog")).to_have_count(0)
    expect(desk.spot("height", "centre")).to_be_focused()
    desk.synced()
    assert site.values(job, "height", place="centre") == ["4' 3/16\""]


def test_what_no_tape_says_is_not_kept_and_the_advice_stays(site: Site, lend: Lend, job: str) -> None:
    desk = lend(site, "desk").open(job)
    desk.spot("width", "middle").click()
    desk.page.get_by_label("The reading").fill("36 7/17")
    desk.page.keyboard.press("Enter")
    expect(desk.page.locator(".heard.wrong")).to_contain_text("did you mean 36 7/16?")
    expect(desk.page.locator("dialog.keypad")).to_be_visible()
    assert desk.kept_here() == 0


def test_a_metric_job_has_a_metric_keypad(site: Site, lend: Lend) -> None:
    job = site.new_job(starter("mm"))
    phone = lend(site, "small").open(job)
    phone.spot("width", "middle").click()
    expect(phone.page.locator(".blade")).to_have_count(0)
    phone.type("921.5").keep().synced()
    assert site.values(job, "width", place="middle") == ["921.5"]


def test_a_new_reading_at_an_empty_spot_and_on_to_the_next(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job).tool("level")
    phone.spot("thickness", "top_left").click()
    phone.type("5 1/2")
    phone.page.locator('[data-key="next"]').click()
    expect(phone.page.locator("dialog h2")).to_have_text("A wall thickness, top right")
    phone.type("5 9/16").keep().synced()
    assert site.values(job, "thickness", place="top_left") == ["5 1/2"]
    assert site.values(job, "thickness", place="top_right") == ["5 9/16"]


def test_read_again_gives_two_readings_of_one_place(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job).tool("laser")
    first = phone.page.locator(".marks .key").first
    expect(first).to_contain_text("2 shots")
    first.click()
    phone.page.get_by_role("button", name="Read it again").click()
    phone.type("30 3/16").keep().synced()
    assert site.values(job, "mark", place="M1") == ["30 1/8", "30 1/8", "30 3/16"]


def test_a_reading_is_taken_away(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job)
    phone.spot("diagonal", "bottom_left_to_top_right").click()
    phone.page.get_by_role("button", name="Take it away").click()
    expect(phone.spot("diagonal", "bottom_left_to_top_right")).to_have_class(re.compile("empty"))
    phone.synced()
    assert site.values(job, "diagonal", place="bottom_left_to_top_right") == []


def test_the_keypad_says_how_a_reading_stands_to_the_wall(site: Site, lend: Lend, job: str) -> None:
    desk = lend(site, "desk").open(job).synced()
    desk.page.locator(".reading .off", has_text="off").first.wait_for()
    desk.spot("diagonal", "bottom_left_to_top_right").click()
    heard = desk.page.locator(".heard")
    said = desk.page.get_by_label("The reading")
    expect(heard).to_contain_text(re.compile("the wall says", re.IGNORECASE))
    said.fill("62 1/4")
    expect(heard).to_have_class(re.compile("far"))
    expect(heard).to_contain_text("more than the wall says")
    said.fill("58 1/4")
    expect(heard).to_contain_text("less than the wall says")


def test_where_nothing_else_tells_the_keypad_claims_nothing(site: Site, lend: Lend, job: str) -> None:
    checked = site.screen(job, "measure")["checked"]["file:opening[0].width.middle"]
    share = (checked["residual_in"] / (checked["w"] * checked["sd_in"])) ** 2 if checked["w"] else 0.0
    assert share < 0.05
    desk = lend(site, "desk").open(job).synced()
    desk.page.locator(".reading .off", has_text="off").first.wait_for()
    desk.spot("width", "middle").click()
    desk.page.get_by_label("The reading").fill("37 1/4")
    expect(desk.page.locator(".heard")).to_have_text("")


def sill(page: Page) -> list[tuple[float, float]]:
    text = page.locator("polyline.sill").get_attribute("points") or ""
    return [(float(x), float(y)) for x, y in (pair.split(",") for pair in text.split())]


def test_the_sill_moves_with_the_laptop_out_of_reach_and_says_so(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job).tool("laser").synced()
    page = phone.page
    expect(page.locator("polyline.sill:not(.unchecked)")).to_be_visible()
    before = sill(page)
    shot = phone.spot("sill", setup="from the lawn", x="48")
    page.context.set_offline(True)
    phone.read(shot, "26 5/16")  # 1/16 lower than before
    expect(page.locator("polyline.sill.unchecked")).to_be_visible()
    expect(page.locator("p.unchecked")).to_contain_text("Not checked yet")
    after = sill(page)
    assert [x for x, _ in after] == [x for x, _ in before]
    deepest = max(range(len(after)), key=lambda n: after[n][1] - before[n][1])
    assert after[deepest][1] > before[deepest][1] + 0.5
    page.context.set_offline(False)
    phone.synced()
    expect(page.locator("polyline.sill:not(.unchecked)")).to_be_visible()


_HOW_LONG = """([job, value]) => new Promise(async (resolve) => {
  const queue = await import("/static/queue.js");
  const { view } = await import("/static/follow.js");
  const shot = view().readings.find(({ table, values }) => table === "sill" && values.x === "48");
  const before = document.querySelector("polyline.sill").getAttribute("points");
  const start = performance.now();
  const look = () => {
    const now = document.querySelector("polyline.sill")?.getAttribute("points");
    if (now && now !== before) requestAnimationFrame(() => resolve(performance.now() - start));
    else setTimeout(look, 1);
  };
  queue.keep(job, "reading.change", { reading_id: shot.reading_id, base: shot.head[0], values: { value } });
  look();
})"""


def test_the_sill_is_drawn_anew_within_a_tenth_of_a_second(site: Site, lend: Lend, job: str) -> None:
    """From the key that keeps a reading to the picture, disk included, with the laptop out of reach."""
    phone = lend(site, "small").open(job).tool("laser").synced()
    expect(phone.page.locator("polyline.sill:not(.unchecked)")).to_be_visible()
    phone.page.context.set_offline(True)
    waits = sorted(phone.page.evaluate(_HOW_LONG, [job, f"26 {n}/16"]) for n in (5, 6, 7, 8, 9))
    assert waits[2] < 100, waits


_REDRAW = """async ([measure, readings, unit]) => {
  const { redraw } = await import("/static/sill.js");
  return redraw(measure, readings, unit).points.map((point) => point.z);
}"""


@pytest.mark.parametrize(
    ("table", "place", "value"),
    [("sill", {"x": "48", "edge": "outer"}, "26 9/32"), ("height", {"place": "left"}, "48 13/32")],
)
def test_the_matrix_product_is_what_the_laptop_then_computes(
    site: Site, job: str, module_page: Page, table: str, place: dict[str, str], value: str
) -> None:
    """The adjustment is linear about its last solution, so a changed reading moves the sill as told."""
    before = site.screen(job, "measure")
    readings = site.job(job)["readings"]
    reading = next(r for r in readings if r["table"] == table and place.items() <= r["values"].items())
    told = [{**r, "values": {**r["values"], "value": value}} if r is reading else r for r in readings]
    moved = module_page.evaluate(_REDRAW, [before, told, "in"])
    site.send(
        job,
        "reading.change",
        {"reading_id": reading["reading_id"], "base": reading["head"], "values": {"value": value}},
    )
    after = {point["name"]: point["z_in"] for point in site.screen(job, "measure")["gain"]["points"]}
    points = before["gain"]["points"]
    assert any(abs(z - point["z_in"]) > 0.003 for z, point in zip(moved, points, strict=True))
    for z, point in zip(moved, points, strict=True):
        assert z == pytest.approx(after[point["name"]], abs=1e-4), point["name"]


def test_a_new_reading_moves_the_sill_as_the_laptop_then_computes(
    site: Site, job: str, module_page: Page
) -> None:
    before = site.screen(job, "measure")
    candidates = [
        each
        for each in before["gain"]["more"]
        if before["places"][each["ref"]]["table"] == "sill" and max(map(abs, each["column"])) > 0.05
    ]
    candidate = candidates[0]
    values: dict[str, Any] = {**before["places"][candidate["ref"]]["values"], **candidate["values"]}
    value = f"{candidate['expected_in'] + 1 / 32:.6f}"
    new = {"reading_id": "0" * 32, "table": "sill", "values": {**values, "value": value}}
    moved = module_page.evaluate(_REDRAW, [before, [*site.job(job)["readings"], new], "in"])
    site.send(job, "reading.add", new)
    after = {point["name"]: point["z_in"] for point in site.screen(job, "measure")["gain"]["points"]}
    compared = [
        (z, after[p["name"]])
        for z, p in zip(moved, before["gain"]["points"], strict=True)
        if p["name"] in after
    ]
    assert len(compared) >= 3
    for z, truth in compared:
        assert z == pytest.approx(truth, abs=2e-3)


_PADS = """async ([measure, readings, unit]) => {
  const { padsNow, redraw } = await import("/static/sill.js");
  const { points, before } = redraw(measure, readings, unit);
  return padsNow(measure.wall.pads, measure.wall.lines, points, before)
    .map(({ front_now, back_now }) => [front_now, back_now]);
}"""


def test_pads_are_the_laptops_own_until_something_is_read_and_move_with_the_sill_then(
    site: Site, job: str, module_page: Page
) -> None:
    """Pads beyond the last shot too: the laptop goes on along the sill there."""
    measure, readings = site.screen(job, "measure"), site.job(job)["readings"]
    told = [[pad["front_in"], pad["back_in"]] for pad in measure["wall"]["pads"]]
    assert module_page.evaluate(_PADS, [measure, readings, "in"]) == told
    shots = [each for each in readings if each["table"] == "sill" and each["values"].get("edge") != "inner"]
    assert all(each["values"]["value"].startswith("26 ") for each in shots)
    for each in readings:
        if each["table"] in ("sill", "mark", "head"):  # the laser stands an inch higher: nothing has moved
            each["values"]["value"] = str(parse(each["values"]["value"]).value + 1)
    assert module_page.evaluate(_PADS, [measure, readings, "in"]) == [
        [pytest.approx(each, abs=2e-3) for each in pad] for pad in told
    ]
    for each in shots:  # the sill is lower than the laptop thought
        each["values"]["value"] = str(parse(each["values"]["value"]).value + 1 / 16)
    lower = module_page.evaluate(_PADS, [measure, readings, "in"])
    assert all(now[0] > before[0] + 1 / 64 for now, before in zip(lower, told, strict=True))


def test_pads_follow_the_sill_and_every_number_answers_why(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job).tool("laser").synced()
    page = phone.page
    row = page.locator("table.pads tbody tr").first
    expect(row).to_be_visible()
    row.get_by_role("button").click()
    dialog = page.locator("dialog.why-sheet")
    expect(dialog).to_contain_text("line")
    expect(dialog).to_contain_text("Source:")
    page.keyboard.press("Escape")
    phone.until("import('/static/state.js').then(({ state }) => Object.keys(state.whys.answers).length > 0)")
    page.context.set_offline(True)
    row.get_by_role("button").click()
    expect(page.locator("dialog.why-sheet")).to_contain_text("Source:")


def test_a_drawing_of_the_laptop_answers_a_tap(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job, "set").synced()
    balloon = phone.page.locator("svg.sillwright g.crayon[data-ref]").first
    balloon.click()
    expect(phone.page.locator("dialog")).to_contain_text(re.compile("Act|Why"))


def test_the_next_reading_named_is_a_tap_away(site: Site, lend: Lend, job: str) -> None:
    named = [each for each in site.screen(job, "measure")["next"] if each["place"]]
    assert named
    desk = lend(site, "desk").open(job)
    desk.page.get_by_role("button", name=named[0]["text"]).click()
    expect(desk.page.locator("dialog")).to_be_visible()
    assert parse("1").value == 1
