"""Lengths against standards and worked examples, one row a value."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from sillwright.lengths import parse, show, to_unit

PUBLISHED = Path(__file__).parent.parent / "published" / "lengths.toml"
CHECKS: list[dict[str, Any]] = tomllib.loads(PUBLISHED.read_text(encoding="utf-8"))["check"]


def _answer(given: dict[str, Any], quantity: str) -> float | str:
    if quantity == "shown":
        return show(given["inches"])
    said = parse(given["text"])
    return said.spread if quantity == "spread" else to_unit(said.value, "mm")


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: f"{check['source']}, {check['where']}")
def test_agrees_with_the_published_value(check: dict[str, Any]) -> None:
    ((quantity, expected),) = check["expect"].items()
    answer = _answer(check["given"], quantity)
    if isinstance(expected, str):
        assert answer == expected
    else:
        assert answer == pytest.approx(expected, rel=0, abs=check["tol"])
