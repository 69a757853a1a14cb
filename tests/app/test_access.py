"""Usable in sun, with gloves, by keyboard and by ear.

The rules of axe-core (a file of a pinned package) are WCAG 2.2's; 7 to 1 is its success criterion 1.4.6.
48 px for what a glove must hit is common practice, no source.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import axe_playwright_python
import pytest
from playwright.sync_api import Locator, Page, expect
from tests.app.conftest import Lend
from tests.app.hand import Hand
from tests.app.site import Site
from tests.web.phones import BUNGALOW

AXE = (Path(axe_playwright_python.__path__[0]) / "axe.min.js").read_text(encoding="utf-8")
RULES = {"rules": {"color-contrast-enhanced": {"enabled": True}, "target-size": {"enabled": True}}}
SCREENS = ("set", "heights", "water", "deck", "lists", "days", "proof", "edit")
_SMALL = """() => [...document.querySelectorAll(
    'a[href], button, select, input:not([type=file]), textarea, summary, [role=button], [role=checkbox]')]
  .filter((each) => each.checkVisibility() && !each.closest('details:not([open]) > :not(summary)'))
  .map((each) => [(each.querySelector('.hit') ?? each).getBoundingClientRect(), each])
  .filter(([box]) => box.width < 47.5 || box.height < 47.5)
  .map(([box, each]) => `${box.width}x${box.height} ${each.outerHTML.slice(0, 120)}`)"""


def complaints(page: Page) -> list[str]:
    page.evaluate(AXE)
    found: dict[str, Any] = page.evaluate("(rules) => axe.run(document, rules)", RULES)
    return [
        f"{rule['id']}: {node['html'][:160]} {node['failureSummary']}"
        for rule in found["violations"]
        for node in rule["nodes"]
    ]


def dialog(hand: Hand, opener: Locator, where: str) -> None:
    opener.click()
    hand.page.locator("dialog").wait_for()
    check(hand, where)
    hand.page.keyboard.press("Escape")


def check(hand: Hand, where: str) -> None:
    assert not complaints(hand.page), where
    assert not hand.page.evaluate(_SMALL), where
    wider = hand.page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert wider <= 0, f"{where} is {wider} px wider than the screen"


SIZES = pytest.mark.parametrize(("device", "scheme"), [("small", "light"), ("desk", "dark")])


@SIZES
def test_jobs_and_measuring_can_be_read_reached_and_hit(
    site: Site, lend: Lend, job: str, device: str, scheme: str
) -> None:
    hand = lend(site, device, color_scheme=scheme)
    hand.page.goto(f"{site.url}/#/")
    hand.page.wait_for_selector("a.job")
    check(hand, "jobs")
    dialog(hand, hand.page.get_by_role("button", name="New wall"), "new wall")
    hand.open(job).synced()
    for tool in ("tape", "laser", "level"):
        hand.tool(tool)
        check(hand, tool)
    hand.tool("laser")
    dialog(hand, hand.page.locator('[data-key="new-setup"]'), "new set-up")
    dialog(hand, hand.page.locator("table.pads button.why").first, "why")
    hand.tool("tape")
    dialog(hand, hand.spot("width", "middle"), "keypad")
    hand.page.goto(f"{site.url}/#/sync")
    hand.page.wait_for_selector(".sync h1")
    check(hand, "sync")


@SIZES
def test_every_other_screen_can_be_read_reached_and_hit(
    site: Site, lend: Lend, device: str, scheme: str
) -> None:
    """With all that a job can have on them: a deck, steps of flashing, findings of every kind."""
    hand = lend(site, device, color_scheme=scheme)
    job = site.new_job(BUNGALOW)
    for screen in SCREENS:
        hand.page.goto(f"{site.url}/#/j/{job}/{screen}")
        hand.at(screen)
        if screen != "edit":  # not the word that the laptop is being asked
            hand.until(f"import('/static/state.js').then(({{ state }}) => Boolean(state.screens.{screen}))")
            expect(hand.page.locator("main p.lead")).to_have_count(0)
        check(hand, screen)
        if screen == "set":
            dialog(hand, hand.page.locator(".act-text").first, "act")


@SIZES
def test_pairing_can_be_read_reached_and_hit(site: Site, lend: Lend, device: str, scheme: str) -> None:
    hand = lend(site, device, paired=False, color_scheme=scheme)
    hand.page.goto(site.url)
    hand.page.get_by_label("Who is this?").wait_for()
    expect(hand.page.locator("header .sync")).to_have_text(re.compile("not paired"))
    check(hand, "pair")


_COLOURS = """(names) => {
  const probe = document.body.appendChild(document.createElement("i"));
  return names.map((name) => {
    probe.style.color = `var(--${name})`;
    return getComputedStyle(probe).color.match(/[\\d.]+/g).map(Number);
  });
}"""
TEXT = [
    *[
        (text, back)
        for text in ("ink", "soft", "chalk", "crayon", "stamp", "water")
        for back in ("paper", "card")
    ],
    *[("ink", back) for back in ("wood", "chalk-wash", "crayon-wash", "stamp-wash")],
    *[
        ("crayon", "crayon-wash"),
        ("on-main", "main"),
        ("on-tape", "tape"),
        ("tape", "on-tape"),
        ("paper", "ink"),
        ("card", "stamp"),
    ],
]
LINES = [(line, back) for line in ("chalk-line", "crayon-line", "rule") for back in ("paper", "card")]


def contrast(one: list[float], other: list[float]) -> float:
    """WCAG 2.2, definition of contrast ratio and of relative luminance."""

    def luminance(colour: list[float]) -> float:
        parts = [c / 255 for c in colour[:3]]
        red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_stand_seven_to_one_and_lines_three_to_one(site: Site, lend: Lend, scheme: str) -> None:
    """Type in drawings too, which axe-core cannot judge; lines by success criterion 1.4.11."""
    hand = lend(site, "desk", color_scheme=scheme)
    hand.page.goto(f"{site.url}/#/")
    hand.page.wait_for_selector("h1")
    names = sorted({name for pair in (*TEXT, *LINES) for name in pair})
    colours = dict(zip(names, hand.page.evaluate(_COLOURS, names), strict=True))
    weak = {
        (front, back): round(contrast(colours[front], colours[back]), 2)
        for pairs, least in ((TEXT, 7.0), (LINES, 3.0))
        for front, back in pairs
        if contrast(colours[front], colours[back]) < least
    }
    assert not weak


def test_the_tab_key_walks_the_drawing_in_reading_order(site: Site, lend: Lend, job: str) -> None:
    desk = lend(site, "desk").open(job)
    desk.page.locator('[data-key="tool-level"]').focus()
    labels = []
    for _ in range(5):
        desk.page.keyboard.press("Tab")
        labels.append(
            desk.page.evaluate(
                "document.activeElement.getAttribute('aria-label') ?? document.activeElement.className"
            )
        )
    spots = [label for label in labels if "width" in label or "height" in label]
    assert [re.sub(":.*", "", label) for label in spots[:3]] == [
        "A width, bottom",
        "A width, middle",
        "A width, top",
    ]


def test_what_is_kept_is_said_aloud(site: Site, lend: Lend, job: str) -> None:
    phone = lend(site).open(job)
    phone.read(phone.spot("width", "middle"), "36 7/16")
    status = phone.page.get_by_role("status").filter(has_text="Kept on this phone")
    expect(status).to_have_text("Kept on this phone: A width, middle, 36 7/16")
