"""All texts stand in one catalogue; what is asked for is there, and what is there is asked for."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page
from tests.app.conftest import STATIC

MODULES = sorted(path for path in STATIC.rglob("*.js") if not path.name.startswith("words."))
_ASKED = re.compile(r'\b(?:t|tOr|say)\(\s*(?:\w+\s*\?\s*)?["`]([\w.${}]+)["`]')
_FAMILY = re.compile(r"`([a-zA-Z]+\.(?:\w+\.)*)\$\{")


def flat(words: Any, prefix: str = "") -> Iterator[str]:
    for key, value in words.items():
        if isinstance(value, dict) and set(value) != {"one", "many"}:
            yield from flat(value, f"{prefix}{key}.")
        else:
            yield f"{prefix}{key}"


@pytest.fixture(scope="module")
def catalogue(module_page: Page) -> dict[str, Any]:
    text = module_page.evaluate("() => import('/static/words.en.js').then((m) => JSON.stringify(m.default))")
    words: dict[str, Any] = json.loads(text)
    return words


def test_every_text_asked_for_by_name_is_there(catalogue: dict[str, Any]) -> None:
    keys = set(flat(catalogue))
    asked = {
        (module.name, key)
        for module in MODULES
        for key in _ASKED.findall(module.read_text(encoding="utf-8"))
        if "." in key and "$" not in key
    }
    assert len(asked) > 150
    missing = {(name, key) for name, key in asked if key not in keys and not key.startswith("lengths")}
    assert not missing


def test_no_text_is_left_over(catalogue: dict[str, Any]) -> None:
    source = "\n".join(module.read_text(encoding="utf-8") for module in MODULES)
    families = tuple(set(_FAMILY.findall(source)) - {"lengths."})
    left = [
        key
        for key in flat(catalogue)
        if f'"{key}"' not in source
        and not key.startswith(families)
        and not (key.startswith("lengths.") and f'"{key.removeprefix("lengths.")}"' in source)
    ]
    assert not left


def test_no_english_stands_outside_the_catalogue() -> None:
    sentence = re.compile(r'(?<!\w)["`]([A-Z][a-z]+ [a-z]+ ?[a-z]*[^"`${}]*)["`]')
    found = {
        (module.name, text)
        for module in MODULES
        for line in module.read_text(encoding="utf-8").splitlines()
        if not line.lstrip().startswith(("//", "*", "/*"))
        for text in sentence.findall(line)
        if text != "Source Sans Pro"
    }
    assert not found
