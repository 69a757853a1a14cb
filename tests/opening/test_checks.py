"""All checks together: what a whole opening comes to, and the laws they keep."""

from __future__ import annotations

import dataclasses
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.opening.walls import DOOR, WINDOW

from sillwright.opening import CHECKS, OpeningFacts, check_opening, examine_opening
from sillwright.rules import EDITIONS, Result, catalogue, rule_book, run

BOOK = rule_book("2018")
NAMES = [field.name for field in dataclasses.fields(OpeningFacts)]
TOLD_EITHER_WAY = {"safety_glass", "header", "wall_cut", "glass", "door_swings_over_landing"}
"""Facts whose absence some check takes as an answer of its own, and says so."""


@pytest.mark.parametrize("facts", [WINDOW, DOOR], ids=["window", "door"])
@pytest.mark.parametrize("edition", EDITIONS)
def test_a_sound_opening_of_which_all_is_known_gives_only_the_reminder(
    facts: OpeningFacts, edition: str
) -> None:
    findings = check_opening(facts, rule_book(edition), place="A")
    # the header table of 2021 is not held
    header = ["finding.header.span.A", "finding.header.jack_studs.A"] if edition == "2021" else []
    assert [finding.id for finding in findings] == [*header, "finding.wall.services.A"]


def test_of_an_opening_of_which_nothing_is_known_every_check_says_what_it_needs() -> None:
    results = examine_opening(OpeningFacts(), BOOK, place="A")
    assert {result.status for result in results if result.check.id != "wall.services"} == {"not checked"}
    told = " ".join(finding.message for finding in check_opening(OpeningFacts(), BOOK, place="A"))
    assert all(result.check.title in told for result in results if result.status == "not checked")


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_check_has_a_source_and_limits_that_are_held(edition: str) -> None:
    rows = catalogue(CHECKS, rule_book(edition))
    assert len(rows) == len(CHECKS)
    assert all(row.source and row.title and row.decides for row in rows)
    assert {row.severity for row in rows} == {"stop", "fix", "watch"}


def test_every_fact_is_asked_for_by_some_check_and_no_check_asks_for_another() -> None:
    assert {name for check in CHECKS for name in check.facts} == set(NAMES)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_a_message_is_whole_sentences(check: object) -> None:
    text = check.message.format(value="V", limit="L", place="P")  # type: ignore[attr-defined]
    assert text.endswith(".")
    assert "{" not in text
    assert "!" not in text + check.advice  # type: ignore[attr-defined]


def test_findings_belong_to_their_opening_and_its_part() -> None:
    findings = run(CHECKS, replace(WINDOW, sill_above_floor=50.0), BOOK, place="B2")
    (sill,) = (finding for finding in findings if finding.id == "finding.escape.sill.B2")
    assert (sill.place, sill.mark, sill.severity) == ("B2", "sill", "stop")


_VALUES: dict[str, st.SearchStrategy[object]] = {
    "kind": st.sampled_from(["door", "window"]),
    "room": st.sampled_from(["sleeping", "basement", "habitable attic", "other"]),
    "pane_place_to_door": st.sampled_from(["in plane", "square wall, hinge side", "square wall, latch side"]),
    "guard_place": st.sampled_from(["level", "stair side", "stair triangle"]),
    "climate_zone": st.sampled_from(["1", "3", "4C", "5A", "marine 4", "8", "9"]),
    "header": st.sampled_from(["2-2x6", "2-2x10", "3-2x12", "4-2x12"]),
    "drops": st.lists(st.tuples(st.floats(0, 60), st.floats(-10, 60)), max_size=3).map(tuple),
    "floors_above": st.integers(0, 3),
    "year_built": st.integers(1850, 2026),
}


def _value(field: dataclasses.Field[object]) -> st.SearchStrategy[object]:
    if field.name in _VALUES:
        return _VALUES[field.name]
    return st.booleans() if "bool" in str(field.type) else st.floats(0.125, 130)


FACTS = st.fixed_dictionaries({field.name: _value(field) for field in dataclasses.fields(OpeningFacts)})


def _statuses(results: tuple[Result, ...]) -> dict[str, str]:
    return {result.check.id: result.status for result in results}


@settings(max_examples=60, deadline=None)
@given(given_facts=FACTS, hidden=st.sets(st.sampled_from(NAMES), max_size=12))
def test_not_knowing_a_fact_never_turns_one_answer_into_another(
    given_facts: dict[str, object], hidden: set[str]
) -> None:
    known = OpeningFacts(**given_facts)  # type: ignore[arg-type]
    less = replace(known, **dict.fromkeys(hidden - TOLD_EITHER_WAY))
    before = _statuses(examine_opening(known, BOOK, place="A"))
    after = _statuses(examine_opening(less, BOOK, place="A"))
    changed = {name: (before[name], after[name]) for name in before if before[name] != after[name]}
    assert all(status == "not checked" for _, status in changed.values()), changed


@settings(max_examples=60, deadline=None)
@given(given_facts=FACTS, edition=st.sampled_from(EDITIONS))
def test_the_units_a_job_is_shown_in_change_no_answer(given_facts: dict[str, object], edition: str) -> None:
    facts, book = OpeningFacts(**given_facts), rule_book(edition)  # type: ignore[arg-type]
    inches = _statuses(examine_opening(facts, book, place="A"))
    assert _statuses(examine_opening(facts, book, place="A", units="mm")) == inches


@settings(max_examples=40, deadline=None)
@given(given_facts=FACTS)
def test_with_all_facts_known_every_check_comes_to_an_answer(given_facts: dict[str, object]) -> None:
    results = examine_opening(OpeningFacts(**given_facts), BOOK, place="A")  # type: ignore[arg-type]
    assert all(result.status != "not checked" for result in results)
    for result in results:
        assert (result.finding is None) == (result.status in {"met", "does not apply"})
