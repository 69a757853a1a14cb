"""A real browser on a phone and on a desk. Needs Debian's `chromium`; nothing is fetched."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright

import sillwright.web

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
def browser_context_args(playwright: Playwright) -> dict[str, Any]:
    """The phone most tests hold: Pixel 7."""
    return dict(playwright.devices["Pixel 7"])


@pytest.fixture(scope="session")
def module_page(browser: Browser) -> Iterator[Page]:
    """A bare page that has the app's modules and no server behind it."""
    context = browser.new_context()
    _serve_static(context)
    page = context.new_page()
    page.goto("http://modules.test/")
    yield page
    context.close()


def _serve_static(context: BrowserContext) -> None:
    page = '<!doctype html><html lang="en"><title>modules</title>'
    context.route("http://modules.test/", lambda route: route.fulfill(body=page, content_type="text/html"))
    context.route(
        "http://modules.test/static/**",
        lambda route: route.fulfill(
            path=STATIC / route.request.url.split("/static/")[1], content_type="text/javascript"
        ),
    )
