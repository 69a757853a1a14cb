"""The shell: kept on the phone, whole, without data, and from nowhere but the laptop."""

from __future__ import annotations

from urllib.parse import urlsplit

from playwright.sync_api import Page, expect
from tests.app.conftest import Lend
from tests.app.site import Site

SCREENS = ("measure", "set", "heights", "water", "deck", "lists", "days", "proof")
_CACHED = """async () => {
  const found = {};
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      found[new URL(request.url).pathname] = await (await cache.match(request)).clone().text();
    }
  }
  return found;
}"""


def test_no_screen_asks_any_other_host(site: Site, lend: Lend, job: str) -> None:
    desk = lend(site, "desk")
    asked: list[str] = []
    desk.page.on("request", lambda request: asked.append(request.url))
    desk.open(job).synced()
    for screen in SCREENS:
        desk.go(screen)
    hosts = {urlsplit(url).netloc for url in asked if not url.startswith(("blob:", "data:"))}
    assert hosts == {urlsplit(site.url).netloc}


def test_the_kept_shell_holds_no_data(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job).synced().trusted()
    cached = phone.page.evaluate(_CACHED)
    assert {"/", "/static/app.js", "/static/words.en.js", "/static/app.css"} <= set(cached)
    assert not any(path.startswith("/api") for path in cached)
    assert not any("Kitchen window" in text for text in cached.values())


def test_every_module_the_page_needs_is_in_the_shell(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site)
    needed: set[str] = set()
    phone.page.on(
        "request",
        lambda request: needed.add(urlsplit(request.url).path) if request.resource_type != "fetch" else None,
    )
    phone.open(job).synced().trusted()
    kept = set(phone.page.evaluate(_CACHED))
    assert {path for path in needed if path.startswith(("/static", "/font"))} <= kept


def policy_breaches(page: Page) -> list[str]:
    found: list[str] = []
    page.on(
        "console", lambda message: found.append(message.text) if "Security Policy" in message.text else None
    )
    return found


def test_no_screen_breaks_its_own_content_policy(site: Site, lend: Lend, job: str) -> None:
    desk = lend(site, "desk")
    breaches = policy_breaches(desk.page)
    desk.open(job).synced()
    for screen in SCREENS:
        desk.go(screen)
    assert not breaches


def test_a_tap_counts_though_the_page_is_drawn_anew_under_the_finger(
    site: Site, lend: Lend, job: str
) -> None:
    phone = lend(site, "desk").open(job).synced()
    page = phone.page
    # in one step: between two the page may be drawn anew
    x, y = page.evaluate(
        "(({ x, y }) => [x, y])(document.querySelector('header .sync').getBoundingClientRect())"
    )
    page.mouse.move(x + 10, y + 10)
    page.mouse.down()
    phone.script("await queue.keep(arg, 'note.add', { place: '', text: 'from elsewhere' });", job)
    page.wait_for_timeout(100)
    page.mouse.up()
    page.wait_for_selector(".sync h1")
    page.mouse.move(x + 10, 400)
    page.mouse.down()  # and lifted outside the window: the page goes on
    phone.script("await queue.keep(arg, 'note.add', { place: '', text: 'held' });", job)
    page.locator('[data-key="home"]').focus()
    phone.until("document.activeElement.dataset.key === 'home'").synced()


def test_the_theme_is_kept_and_follows_the_phone_until_then(site: Site, lend: Lend) -> None:
    phone = lend(site, color_scheme="dark")
    page = phone.page

    def paper() -> str:
        return str(page.evaluate("getComputedStyle(document.body).backgroundColor"))

    page.goto(f"{site.url}/#/sync")
    page.get_by_role("button", name="dark").wait_for()
    dark = paper()
    page.get_by_role("button", name="light", exact=True).click()
    light = paper()
    assert light != dark
    page.reload()
    expect(page.get_by_role("button", name="light", exact=True)).to_have_attribute("aria-pressed", "true")
    assert paper() == light
