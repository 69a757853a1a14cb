"""A real browser on a phone and on a desk, and a real server. Needs Debian's `chromium`."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright
from tests.app.hand import Hand
from tests.app.site import Site

import sillwright.web
from sillwright.job.starter import starter

STATIC = Path(sillwright.web.__path__[0]) / "static"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
ARGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP phone.test 127.0.0.1",  # a name that is not of this machine
]
PATIENCE_MS = 15_000


@pytest.fixture(scope="session", autouse=True)
def _chromium() -> None:
    if CHROMIUM is None:
        words = "no chromium on the PATH; install Debian's package chromium to run the tests of the site app"
        if os.environ.get("REQUIRE_BROWSER") == "1":
            pytest.fail(words)
        pytest.skip(words)


@pytest.fixture(scope="session")
def browser_type_launch_args(_chromium: None) -> dict[str, Any]:
    return {"executable_path": CHROMIUM, "args": ARGS}


@pytest.fixture(scope="session")
def site(_chromium: None, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """The server most tests share; each works on a job of its own."""
    site = Site(tmp_path_factory.mktemp("site"))
    site.start()
    yield site
    site.close()


@pytest.fixture
def own_site(tmp_path: Path) -> Iterator[Site]:
    """A server that may be killed."""
    site = Site(tmp_path)
    site.start()
    yield site
    site.close()


Lend = Callable[..., Hand]


@pytest.fixture
def lend(browser: Browser, playwright: Playwright) -> Iterator[Lend]:
    """Lend paired devices: `lend(site)` a Pixel 7, `lend(site, "small")` 360 px wide, "desk" a laptop."""
    devices: dict[str, dict[str, Any]] = {
        "phone": playwright.devices["Pixel 7"],
        "small": {**playwright.devices["Pixel 7"], "viewport": {"width": 360, "height": 640}},
        "desk": {"viewport": {"width": 1280, "height": 860}},
    }
    contexts: list[BrowserContext] = []
    complaints: list[str] = []

    def make(site: Site, device: str = "phone", *, name: str = "", paired: bool = True, **more: Any) -> Hand:
        context = browser.new_context(**{**devices[device], "base_url": site.url, **more})
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        if paired:
            site.pair(context, name or device)
        page = context.new_page()
        page.on("pageerror", lambda error: complaints.append(str(error)))
        return Hand(page, site)

    yield make
    for context in contexts:
        context.close()
    assert not complaints, complaints


@pytest.fixture
def job(site: Site) -> str:
    """A small invented job in inches, with readings."""
    return site.new_job(starter("in"))


@pytest.fixture(scope="session")
def module_page(browser: Browser) -> Iterator[Page]:
    """A bare page that has the app's modules and no server behind it."""
    context = browser.new_context()
    page = '<!doctype html><html lang="en"><title>modules</title>'
    context.route("http://modules.test/", lambda route: route.fulfill(body=page, content_type="text/html"))
    context.route(
        "http://modules.test/static/**",
        lambda route: route.fulfill(
            path=STATIC / route.request.url.split("/static/")[1], content_type="text/javascript"
        ),
    )
    opened = context.new_page()
    opened.goto("http://modules.test/")
    yield opened
    context.close()
