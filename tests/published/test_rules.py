"""Limits, tables and checks of the rules against the code as read, at, under and over each limit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
from tests.deck.rulings import ruling as ledger_ruling
from tests.opening.rulings import ruling
from tests.published.checks import Check, load

from sillwright.rules import OutsideTable, RuleBook, amended, rule_book

BOUNDARIES = [
    (edition, check)
    for edition in ("2018", "2021")
    for check in load("rules_boundaries")
    if edition == "2018" or not check.given["rule"].startswith("header")  # the 2021 table is not held
]


@pytest.mark.parametrize(("edition", "check"), BOUNDARIES, ids=lambda part: getattr(part, "id", part))
def test_a_case_at_the_edge_of_a_rule_falls_as_the_code_says(check: Check, edition: str) -> None:
    given = dict(check.given)
    check.compare({"answer": ruling(given.pop("rule"), given, rule_book(edition))})


@pytest.mark.parametrize("check", load("rules_limits"), ids=lambda check: check.id)
def test_a_limit_is_the_one_of_its_section(check: Check) -> None:
    limit = rule_book("2018").limits[check.given["limit"]]
    check.compare({"value": limit.value, "section": limit.section})
    assert limit.from_memory == (check.kind == "from memory"), (
        "the table and the check disagree on what was read"
    )


@pytest.mark.parametrize("check", load("rules_headers"), ids=lambda check: f"{check.id} {check.given}")
def test_a_header_cell_is_the_one_printed_and_the_table_ends_where_it_ends(check: Check) -> None:
    given = dict(check.given)
    keys = {"edition": "2018", **{key: given.pop(key) for key in ("supports", "header")}}
    check.compare(_looked_up(rule_book("2018"), "headers", keys, given, check.expect))


@pytest.mark.parametrize("check", load("rules_fenestration"), ids=lambda check: f"{check.id} {check.given}")
def test_a_climate_zone_has_the_limits_printed_and_no_other_zone_has_any(check: Check) -> None:
    given = dict(check.given)
    book = _with_zone(rule_book(given["edition"]), given["climate_zone"], given.pop("amended", None))
    check.compare(_looked_up(book, "fenestration", given, {}, check.expect))


def _with_zone(book: RuleBook, zone: str, values: Mapping[str, float] | None) -> RuleBook:
    if values is None:
        return book
    text = f'title = "a state"\n[[row]]\ntable = "fenestration"\nclimate_zone = "{zone}"\n'
    text += "\n".join(f"{key} = {value}" for key, value in values.items())
    return amended(book, text, name="state.toml", check_ids=())


def _looked_up(
    book: RuleBook,
    table: str,
    keys: Mapping[str, str],
    at: Mapping[str, float],
    expect: Mapping[str, Any],
) -> Mapping[str, Any]:
    """Return the values found, or the expected words of the refusal if they stand in it."""
    try:
        row = book.tables[table].find(keys, at)
    except OutsideTable as error:
        said, wanted = str(error), str(expect.get("refused_with"))
        told = said.startswith("outside this table: needs an engineer") and wanted in said
        return {"refused_with": wanted if told else said}
    return {name: "NR" if value is None else value for name, value in row.values.items()}


@pytest.mark.parametrize("check", load("rules_ledger"), ids=lambda check: check.id)
def test_a_ledger_at_the_edge_of_a_rule_falls_as_the_code_says(check: Check) -> None:
    given = dict(check.given)
    check.compare({"answer": ledger_ruling(given.pop("rule"), given, rule_book("2018"))})
