from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from tests.golden.make import EXAMPLES, HERE, summary

CLOSE = 2e-4
"""Room for another processor's last digits [in, or the unit of the job]."""


def differences(here: Any, there: Any, path: str = "") -> list[str]:
    if isinstance(here, dict) and isinstance(there, dict):
        keys = sorted({*here, *there})
        return [d for key in keys for d in differences(here.get(key), there.get(key), f"{path}.{key}")]
    if isinstance(here, list) and isinstance(there, list) and len(here) == len(there):
        pairs = enumerate(zip(here, there, strict=True))
        return [d for k, (a, b) in pairs for d in differences(a, b, f"{path}[{k}]")]
    if isinstance(here, float | int) and isinstance(there, float | int):
        return [] if abs(here - there) <= CLOSE * max(1.0, abs(there)) else [f"{path}: {here} was {there}"]
    return [] if here == there else [f"{path}: {here} was {there}"]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_an_examples_plan_is_what_was_last_looked_at(example: Path) -> None:
    golden = json.loads((HERE / f"{example.stem}.json").read_text(encoding="utf-8"))
    assert differences(summary(example), golden) == []


def test_a_changed_number_is_seen() -> None:
    golden = json.loads((HERE / f"{EXAMPLES[0].stem}.json").read_text(encoding="utf-8"))
    changed = json.loads(json.dumps(golden))
    changed["pads"][0]["front"] += 1 / 32
    assert differences(changed, golden) != []
