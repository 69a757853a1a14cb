"""The record's canonical JSON and its hash, against the scheme's own samples."""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping
from typing import Any

import pytest
from tests.published.checks import Check, load

from sillwright.errors import OutOfRange
from sillwright.store.canonical import canonical, digest


@pytest.mark.parametrize("check", load("canonical_json"), ids=lambda check: check.id)
def test_canonical_json_agrees_with_its_source(check: Check) -> None:
    check.compare(_found(check.given))


def _found(given: Mapping[str, Any]) -> Mapping[str, Any]:
    if "plain" in given:
        return {"sha256": digest(given["plain"])}
    if "json" in given:
        text = canonical(json.loads(given["json"]))
        values = list(json.loads(text).values())
        return {"text": text, "hex": text.encode().hex(), "values_in_order": values}
    (value,) = struct.unpack(">d", bytes.fromhex(given["bits"]))
    try:
        # the sign keeps the text from being compared as a number
        return {"text": f"= {canonical(value)}", "refused": False}
    except OutOfRange:
        return {"refused": True}
