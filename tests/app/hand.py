"""The carpenter's hand on a device: opens screens, taps spots, types on the keypad."""

from __future__ import annotations

import re
import time
from typing import Any

from playwright.sync_api import Locator, Page, expect
from tests.app.site import Site

_READING = re.compile(
    r"(?P<sign>-)?(?P<whole>\d+(?:\.\d+)?)?\s*(?:(?P<top>\d+)/(?P<bottom>\d+))?\s*(?P<word>strong|shy)?"
)


class Hand:
    """One device with one page."""

    def __init__(self, page: Page, site: Site) -> None:
        self.page = page
        self.site = site

    def open(self, job: str, screen: str = "measure") -> Hand:
        self.page.goto(f"{self.site.url}/#/j/{job}/{screen}")
        return self.at(screen)

    def at(self, screen: str) -> Hand:
        self.page.wait_for_selector(f'main[data-screen^="{screen}/"] h1')
        return self

    def go(self, screen: str) -> Hand:
        self.page.locator(f'nav a[data-screen="{screen}"]').click()
        return self.at(screen)

    def trusted(self) -> Hand:
        """Wait until the shell is kept on the device."""
        return self.until("navigator.serviceWorker.controller !== null")

    def until(self, truth: str) -> Hand:
        """Wait until an expression is true; the page's policy forbids Playwright's own way."""
        deadline = time.monotonic() + 15
        while not self.page.evaluate(truth):
            assert time.monotonic() < deadline, f"never true: {truth}"
            self.page.wait_for_timeout(20)
        return self

    def tool(self, name: str) -> Hand:
        self.page.locator(f'[data-key="tool-{name}"]').click()
        return self

    def spot(
        self,
        table: str,
        place: str = "",
        *,
        opening: str = "A",
        edge: str = "outer",
        setup: str = "",
        x: str = "",
    ) -> Locator:
        edge = edge if table in ("width", "height", "sill", "head", "pad") else ""
        return self.page.locator(f'[data-ref="{table}|{setup}|{opening}|{place}|{edge}|{x}"]')

    def type(self, reading: str) -> Hand:
        """Press the keys of the keypad for a reading such as `-36 5/16 strong`."""
        found = _READING.fullmatch(reading)
        assert found, reading
        for digit in found["whole"] or "":
            self._press("point" if digit == "." else digit)
        if found["sign"]:
            self.page.locator('.keypad [data-key="key-−"]').click()
        if found["top"]:
            sixteenth = 16 * int(found["top"]) // int(found["bottom"])
            self.page.locator(f'.keypad [data-key="tick-{sixteenth}"]').click()
        if found["word"]:
            self.page.locator(f'.keypad [data-key="word-{found["word"]}"]').click()
        return self

    def _press(self, digit: str) -> None:
        key = "." if digit == "point" else digit
        self.page.locator(f'.keypad [data-key="key-{key}"]').click()

    def keep(self) -> Hand:
        """Keep the reading on the keypad; comes back when it is on the device's disk."""
        reading = self.page.locator('.keypad [data-key="said"]').input_value()
        self.page.locator('.keypad [data-key="keep"]').click()
        expect(self.page.locator("dialog")).to_have_count(0)
        told = re.compile(f"^Kept on this phone: .*, {re.escape(reading)}$")
        expect(self.page.locator("#said")).to_have_text(told)
        return self

    def read(self, spot: Locator, reading: str) -> Hand:
        """Tap a spot, type a reading, keep it."""
        spot.click()
        return self.type(reading).keep()

    def synced(self) -> Hand:
        """Wait until nothing waits on the device."""
        expect(self.page.locator("header .sync.all")).to_be_visible()
        return self

    def kept_here(self) -> int:
        """How many things wait on the device."""
        kept: int = self.page.evaluate(
            """() => import("/static/state.js").then(({ state }) =>
            state.outbox.filter((item) => item.state === "waiting").length)"""
        )
        return kept

    def script(self, body: str, arg: Any = None) -> Any:
        """Run code with the app's queue at hand."""
        return self.page.evaluate(
            f"async (arg) => {{ const queue = await import('/static/queue.js'); {body} }}", arg
        )
