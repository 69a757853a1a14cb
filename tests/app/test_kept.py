"""What a phone keeps when things end hard: a flat battery, and a laptop in trusted mode that is gone."""

from __future__ import annotations

import base64
import hashlib
import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from playwright.sync_api import BrowserContext, Playwright, expect
from tests.app.conftest import ARGS, CHROMIUM, PATIENCE_MS
from tests.app.hand import Hand
from tests.app.site import Site
from tests.app.test_access import complaints
from tests.web.served import served

from sillwright.job.starter import starter


@contextmanager
def phone_with(playwright: Playwright, profile: Path, *more: str) -> Iterator[BrowserContext]:
    """A browser of its own whose disk outlives it."""
    device: dict[str, Any] = {**playwright.devices["Pixel 7"]}
    del device["default_browser_type"]
    opened = playwright.chromium.launch_persistent_context(
        profile, executable_path=CHROMIUM, args=[*ARGS, *more], **device
    )
    opened.set_default_timeout(PATIENCE_MS)
    try:
        yield opened
    finally:
        opened.close()


def browser_of(profile: Path) -> int:
    """Return the process of the browser that writes to a profile."""
    wanted = f"--user-data-dir={profile}".encode()
    for each in Path("/proc").iterdir():
        if each.name.isdigit():
            try:
                words = (each / "cmdline").read_bytes().split(b"\0")
            except OSError:
                continue
            if wanted in words and not any(word.startswith(b"--type=") for word in words):
                return int(each.name)
    raise AssertionError("no browser has this profile")


@pytest.mark.skipif(not Path("/proc/self/cmdline").exists(), reason="this system tells no processes by files")
def test_readings_outlive_a_flat_battery(own_site: Site, playwright: Playwright, tmp_path: Path) -> None:
    """The browser is killed as soon as the page says that the reading is kept."""
    job = own_site.new_job(starter("in"))
    profile = tmp_path / "profile"
    with phone_with(playwright, profile) as context:
        own_site.pair(context, "battery")
        phone = Hand(context.new_page(), own_site).open(job).synced().trusted()
        own_site.stop()
        phone.read(phone.spot("width", "middle"), "36 7/16")
        phone.read(phone.spot("width", "top"), "36 9/16 shy")
        with context.expect_event("close"):
            os.kill(browser_of(profile), signal.SIGKILL)
    with phone_with(playwright, profile) as context:
        page = context.new_page()
        page.goto(own_site.url)
        phone = Hand(page, own_site).at("measure")
        expect(page.locator("header .sync.waiting .sign")).to_have_text("2")
        expect(phone.spot("width", "middle")).to_contain_text("36 ⁷⁄₁₆")
        own_site.start()
        own_site.pair(context, "battery")  # browsers write cookies down half a minute late
        page.evaluate("dispatchEvent(new Event('online'))")
        phone.synced()
    assert own_site.values(job, "width", place="middle") == ["36 7/16"]
    assert own_site.values(job, "width", place="top") == ["36 9/16 shy"]


def key_print(certificate: Path) -> str:
    """Return the print by which a browser is told to trust one key, as if its authority were installed."""
    key = x509.load_pem_x509_certificate(certificate.read_bytes()).public_key()
    der = key.public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
    return base64.b64encode(hashlib.sha256(der).digest()).decode()


def test_a_phone_that_trusts_the_laptop_installs_the_page_and_opens_it_with_the_laptop_gone(
    playwright: Playwright, tmp_path: Path
) -> None:
    (tmp_path / "wall.toml").write_text(starter("in"), encoding="utf-8")
    arguments = ("--host", "127.0.0.1", "--trust", "--job", "wall.toml")
    with served(tmp_path, *arguments) as server:
        trust = (
            f"--ignore-certificate-errors-spki-list={key_print(tmp_path / 'sillwright.trust' / 'laptop.pem')}"
        )
        with phone_with(playwright, tmp_path / "profile", trust) as context:
            page = context.new_page()
            page.goto(server.trust)
            expect(page.get_by_text(server.sha256)).to_be_visible()
            assert not complaints(page)
            page.goto(f"{server.address}/#pair={server.code}")
            page.get_by_label("Who is this?").fill("Pocket")
            page.get_by_role("button", name="Pair").click()
            page.locator("a.job").click()
            phone = Hand(page, Site(tmp_path)).at("measure").synced().trusted()
            assert page.evaluate("window.isSecureContext")
            expect(page.get_by_text("Keep this page open")).to_have_count(0)
            # the browser's own judgement whether a page can be put on the home screen
            found = context.new_cdp_session(page).send("Page.getInstallabilityErrors")
            assert [each["errorId"] for each in found["installabilityErrors"]] == []
            server.stop()
            page.close()
            page = phone.page = context.new_page()
            page.goto(server.address)
            phone.at("measure")
            phone.read(phone.spot("width", "middle"), "36 3/8")
            assert phone.kept_here() == 1
