"""Every screen of every example: it comes, it says what the plan says, and every why has an answer."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from tests.web.phones import EXAMPLES, Phone

from sillwright.web.screens import SCREENS

NAMES = sorted(path.stem for path in EXAMPLES.glob("*.toml"))


def whys(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        if value.get("why"):
            yield value["why"]
        for each in value.values():
            yield from whys(each)
    elif isinstance(value, list):
        for each in value:
            yield from whys(each)


@pytest.mark.parametrize("name", NAMES)
def test_every_screen_comes_and_every_why_has_an_answer(phone: Phone, name: str) -> None:
    job = phone.start((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    answers = phone.get(f"/api/jobs/{job}/whys")
    listed = phone.get(f"/api/jobs/{job}/screens")["screens"]
    assert [each["screen"] for each in listed] == list(SCREENS)
    for each in listed:
        shown = phone.screen(job, each["screen"])
        assert shown["title"] == each["title"]
        assert shown["plan"] == answers["plan"]
        assert not shown["faults"]
        assert set(whys(shown)) <= set(answers["whys"])
        for drawing in shown["svg"]:
            assert "<style" not in drawing["svg"]
            assert ' style="' not in drawing["svg"]
            assert "<script" not in drawing["svg"]
            assert re.search(r'data-sx="[0-9.]+"', drawing["svg"])
    some = sorted(answers["whys"])[::17]
    for ident in some:
        assert phone.get(f"/api/jobs/{job}/why/{ident}") == answers["whys"][ident]


def test_a_new_wall_has_screens_before_anything_is_read(phone: Phone) -> None:
    answer = phone.client.post("/api/jobs", json={"starter": "blank", "openings": ["A", "B"]})
    job = answer.json()["job"]
    for name in SCREENS:
        phone.screen(job, name)
    measure = phone.screen(job, "measure")
    assert "width||A|middle|outer|" in measure["places"]
    assert measure["places"]["width||A|middle|outer|"]["needs"] == []
    assert "gain" not in measure or measure["gain"] is None
