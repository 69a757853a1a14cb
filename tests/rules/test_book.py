from __future__ import annotations

import pytest

from sillwright.errors import BadInput
from sillwright.rules import EDITIONS, rule_book


@pytest.mark.parametrize("edition", ["2012", "2024", "", "18"])
def test_an_edition_that_is_not_held_is_refused_with_those_that_are(edition: str) -> None:
    with pytest.raises(BadInput, match=r"there is no edition .* Known: 2018, 2021\."):
        rule_book(edition)


def test_every_edition_has_the_same_limits_by_name() -> None:
    names = {edition: set(rule_book(edition).limits) for edition in EDITIONS}
    assert names["2018"] == names["2021"]


def test_what_was_not_read_in_an_edition_is_marked_as_from_memory() -> None:
    assert not rule_book("2018").limits["escape.sill"].from_memory
    assert all(limit.from_memory for limit in rule_book("2021").limits.values())


def test_sections_follow_the_edition() -> None:
    assert [rule_book(edition).limits["escape.sill"].section for edition in EDITIONS] == [
        "R310.2.2",
        "R310.2.3",
    ]


def test_a_book_is_read_once() -> None:
    assert rule_book("2018") is rule_book("2018")
