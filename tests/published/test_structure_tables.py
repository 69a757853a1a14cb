"""Lookups of the deck, ledger and header tables against their printed cells, and refusals just outside."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict
from typing import Any

import pytest
from tests.published.checks import Check, load

from sillwright.errors import OutOfRange
from sillwright.structure import (
    HeaderLoad,
    LedgerLoad,
    beam_span,
    decking_joist_spacing,
    distances,
    fastener_spacing,
    footing_by_area,
    footing_by_spans,
    header_span,
    joist_cantilever,
    joist_span,
    post_height,
    post_height_by_area,
    single_header_span,
)

Given = Mapping[str, Any]


@pytest.mark.parametrize("check", load("structure_tables"), ids=lambda check: check.id)
def test_a_table_gives_its_printed_value_or_refuses(check: Check) -> None:
    given = {name: value for name, value in check.given.items() if name != "table"}
    look_up = _LOOK_UP[check.given["table"]]
    if "refused" in check.expect:
        with pytest.raises(OutOfRange) as refusal:
            look_up(given)
        assert str(refusal.value).startswith("outside this table: needs an engineer")
        assert check.expect["refused"] in str(refusal.value)
    else:
        check.compare(look_up(given))


def _ledger(given: Given) -> Given:
    return {"spacing": fastener_spacing(LedgerLoad(**given)).value}


def _placement(given: Given) -> Given:
    return asdict(
        distances(given["member"], size=given.get("size", "2x10"), reduced=given.get("reduced", False))
    )


def _joist(given: Given) -> Given:
    plain = dict(given)
    # a span long enough that the table's own cantilever, not a quarter of it, rules
    actual = plain.pop("actual_span", 10000.0)
    span = joist_span(plain["size"], **{name: value for name, value in plain.items() if name != "size"})
    over = joist_cantilever(
        plain["size"],
        species=plain["species"],
        spacing=plain["spacing"],
        edition=plain["edition"],
        joist_span=actual,
    )
    return {"span": span.value, "cantilever": over.value}


def _beam(given: Given) -> Given:
    return {"span": beam_span(given["beam"], **{k: v for k, v in given.items() if k != "beam"}).value}


def _footing(given: Given) -> Given:
    if "area_sqft" in given:
        return asdict(footing_by_area(given["area_sqft"], soil_psf=given["soil_psf"]))
    return asdict(footing_by_spans(**given))


def _post(given: Given) -> Given:
    if "area_sqft" in given:
        return {"height": post_height_by_area(given["post"], area_sqft=given["area_sqft"]).value}
    return {"height": post_height(given["post"], beam_plies=given["beam_plies"]).value}


def _header(given: Given) -> Given:
    found = header_span(given["header"], load=HeaderLoad(**{k: v for k, v in given.items() if k != "header"}))
    return {"span": found.span.value, "jacks": found.jacks}


def _single(given: Given) -> Given:
    found = single_header_span(given["header"], **{k: v for k, v in given.items() if k != "header"})
    return {"span": found.span.value, "jacks": found.jacks}


_LOOK_UP: dict[str, Callable[[Given], Given]] = {
    "ledger": _ledger,
    "placement": _placement,
    "joist": _joist,
    "beam": _beam,
    "decking": lambda g: {"spacing": decking_joist_spacing(g["decking"], diagonal=g["diagonal"]).value},
    "footing": _footing,
    "post": _post,
    "header": _header,
    "single header": _single,
}
