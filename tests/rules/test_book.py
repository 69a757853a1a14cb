from __future__ import annotations

import pytest

from sillwright.errors import BadInput
from sillwright.rules import EDITIONS, PLACES, load_table, rule_book


@pytest.mark.parametrize("edition", ["2012", "2024", "", "18"])
def test_an_edition_that_is_not_held_is_refused_with_those_that_are(edition: str) -> None:
    with pytest.raises(BadInput, match=r"there is no edition .* Known: 2018, 2021\."):
        rule_book(edition)


def test_every_edition_has_the_same_limits_by_name() -> None:
    names = {edition: set(rule_book(edition).limits) for edition in EDITIONS}
    assert names["2018"] == names["2021"]


@pytest.mark.parametrize("place", ["ontario", "", "us"])
def test_a_place_that_is_not_held_is_refused_with_those_that_are(place: str) -> None:
    with pytest.raises(BadInput, match=r"there is no place .* Known: us-model-code, florida, canada-ontario"):
        rule_book("2018", place)


def test_every_fault_of_edition_and_place_is_told_at_once() -> None:
    with pytest.raises(BadInput) as fault:
        rule_book("2012", "mars")
    assert len(fault.value.faults) == 2


def test_a_place_has_its_own_row_before_that_of_any_place_and_leaves_open_what_it_does_not_set() -> None:
    ontario, model = rule_book("2018", "canada-ontario"), rule_book("2018")
    assert (model.place, ontario.place) == ("us-model-code", "canada-ontario")
    assert ontario.limits["sill.slope"].cited == "Ontario Building Code 9.27.3.8(4)(b)"
    assert ontario.limits["dam.end_needed"].basis == "code"
    assert model.limits["dam.end_needed"].basis == "guide"
    assert model.unset["sill.slope"].note == "no number for us-model-code was read"
    assert (model.unset["sill.slope"].basis, ontario.unset["lap.jamb_over_pan"].basis) == ("open", "gap")
    for place in PLACES:
        book = rule_book("2018", place)
        assert not set(book.limits) & set(book.unset)
        assert set(book.limits) | set(book.unset) == set(model.limits) | set(model.unset)


def test_the_editions_own_limits_are_the_same_in_every_place() -> None:
    books = [rule_book("2018", place) for place in PLACES]
    own = [{name: each for name, each in book.limits.items() if not each.cited} for book in books]
    assert own[0] == own[1] == own[2]


def test_the_table_of_water_requirements_is_sound_and_says_what_was_read() -> None:
    table = load_table("water")
    assert set(table.known("place")) == {"any", *PLACES}
    for row in table.rows:
        gap = row.values["value"] is None
        assert row.texts["status"] in {"read", "second-hand", "derived", "gap"}
        assert row.texts["basis"] in {"code", "standard", "guide", "derived", "practice", "gap"}
        assert (
            gap
            == (row.texts["status"] == "gap")
            == (row.texts["basis"] == "gap")
            == (not row.texts["source"])
        )
        assert (row.texts["status"] in {"read", "second-hand"}) == bool(row.texts["read_at"])
        assert row.texts["basis"] != "code" or row.keys["place"] != "any"
    units = {
        (row.keys["id"], row.texts["unit"]) for row in table.rows if row.texts["unit"] not in {"in", "mm"}
    }
    assert len({ident for ident, _ in units}) == len(units)


def test_what_was_not_read_in_an_edition_is_marked_as_from_memory() -> None:
    assert not rule_book("2018").limits["escape.sill"].from_memory
    of_the_edition = [limit for limit in rule_book("2021").limits.values() if not limit.cited]
    assert all(limit.from_memory for limit in of_the_edition)


def test_sections_follow_the_edition() -> None:
    assert [rule_book(edition).limits["escape.sill"].section for edition in EDITIONS] == [
        "R310.2.2",
        "R310.2.3",
    ]


def test_a_book_is_read_once() -> None:
    assert rule_book("2018") is rule_book("2018")
