"""Fastener distances and lateral ties of a ledger: what the published cases do not reach."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sillwright.deck import CHECKS, LedgerFacts
from sillwright.errors import BadInput
from sillwright.rules import EDITIONS, Result, catalogue, examine, rule_book, run

BOOK = rule_book("2018")
LEDGER = LedgerFacts(
    ledger="2x10",
    band="2x10",
    fastener="lag",
    top_edge=2.0,
    low_row=6.5,
    bottom_edge=2.75,
    end=3.0,
    rows_apart=4.5,
    band_top_edge=2.0,
    band_bottom_edge=2.75,
    tie_form="interior",
    tie_count=2,
    tie_capacity_lb=1500.0,
    tie_from_end=20.0,
    joist_bearing=1.5,
)


def _result(ident: str, **changed: Any) -> Result:
    (check,) = (check for check in CHECKS if check.id == ident)
    (result,) = examine([check], replace(LEDGER, **changed), BOOK, place="the ledger")
    return result


def test_a_ledger_laid_out_by_the_table_gives_no_finding() -> None:
    assert run(CHECKS, LEDGER, BOOK) == ()


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_check_is_listed_with_its_source(edition: str) -> None:
    assert all(row.source.startswith(f"IRC {edition}, ") for row in catalogue(CHECKS, rule_book(edition)))


@pytest.mark.parametrize(
    ("ident", "fact", "value"),
    [
        ("ledger.top_edge", "top_edge", 1.9375),
        ("ledger.bottom_edge", "bottom_edge", 0.6875),
        ("ledger.low_row", "low_row", 6.4375),
        ("ledger.end", "end", 1.9375),
        ("ledger.end", "end", 5.0625),
        ("ledger.rows", "rows_apart", 1.5625),
        ("ledger.rows", "rows_apart", 5.0625),
        ("band.top_edge", "band_top_edge", 0.6875),
        ("band.bottom_edge", "band_bottom_edge", 1.9375),
        ("tie.count", "tie_count", 1),
        ("tie.capacity", "tie_capacity_lb", 1499.0),
        ("joist.bearing", "joist_bearing", 1.4375),
        ("tie.from_end", "tie_from_end", 24.0625),
    ],
)
def test_a_sixteenth_or_a_pound_beyond_the_limit_is_found(ident: str, fact: str, value: float) -> None:
    # IRC 2018, Table R507.9.1.3(2) and R507.9.2
    assert _result(ident).status == "met"
    result = _result(ident, **{fact: value})
    assert result.status == "not met"
    assert result.finding is not None
    assert result.value in result.finding.message
    assert result.limit in result.finding.message


@pytest.mark.parametrize("missing", ["ledger", "low_row", "end", "tie_form", "band_top_edge"])
def test_what_nobody_stated_is_asked_for(missing: str) -> None:
    findings = run(CHECKS, replace(LEDGER, **{missing: None}), BOOK)
    assert findings
    assert all(finding.message.startswith("Not checked") for finding in findings)


@pytest.mark.parametrize(
    ("changed", "status"),
    [
        ({"fastener": "lag"}, "met"),
        ({"fastener": "bolt", "bolts_at_lag_spacing": True}, "met"),
        ({"fastener": "bolt", "bolts_at_lag_spacing": False}, "not met"),
        ({"fastener": "bolt", "bolts_at_lag_spacing": None}, "not checked"),
        ({"fastener": "lag", "band": "2x10"}, "not met"),
    ],
)
def test_the_low_row_may_rise_in_a_2x8_on_a_2x8_only_at_lag_screw_spacing(
    changed: dict[str, Any], status: str
) -> None:
    # IRC 2018, Table R507.9.1.3(2), footnote
    facts = {"ledger": "2x8", "band": "2x8", "low_row": 4.5} | changed
    assert _result("ledger.low_row", **facts).status == status


def test_four_ties_of_the_exterior_form_carry_less_each() -> None:
    assert _result("tie.capacity", tie_form="exterior", tie_capacity_lb=750.0).status == "met"
    assert _result("tie.count", tie_form="exterior", tie_count=3).status == "not met"


def test_a_ledger_that_the_table_does_not_know_is_refused() -> None:
    with pytest.raises(BadInput, match=r"'2x6' is not known\. Known: 2x8, 2x10, 2x12\."):
        LedgerFacts(ledger="2x6")  # type: ignore[arg-type]
