from __future__ import annotations

from dataclasses import fields
from typing import get_args

import pytest
from tests.flashing.dressings import a_job, dressing_of

from sillwright.flashing import PanMake, Rolls, Sizes, UnitSet, WrapWhen, schemes
from sillwright.flashing.schemes import OWN, usual_rolls
from sillwright.job import WaterSizes
from sillwright.job import water as job_water
from sillwright.materials import family
from sillwright.water import Kind

NAMES = [card.scheme.name for card in schemes()]


def test_a_job_may_name_every_scheme_and_two_words_more() -> None:
    assert [*NAMES, OWN, "none"] == list(get_args(job_water.SchemeName))
    assert len(NAMES) >= 8
    assert len(set(NAMES)) == len(NAMES)


def test_the_choices_of_a_job_are_those_of_the_practice() -> None:
    for choice, said in (
        (WrapWhen, job_water.WrapWhen),
        (PanMake, job_water.PanMake),
        (UnitSet, job_water.UnitSet),
    ):
        assert [each.value for each in choice] == list(get_args(said))
    assert {each.name for each in fields(Rolls)} == set(get_args(job_water.Use)) == set(usual_rolls())


def test_kinds_of_own_pieces_are_kinds_of_sheets() -> None:
    bodies = {Kind.UNIT.value, Kind.MOUNT.value}
    assert set(get_args(job_water.PieceKind)) == {kind.value for kind in Kind} - bodies


def test_sizes_without_a_word_are_those_of_the_practice() -> None:
    usual = {each.name: each.default for each in fields(Sizes)}
    assert WaterSizes().model_dump() == usual


def test_what_is_taken_is_of_known_families() -> None:
    for stock in usual_rolls().values():
        assert family(stock.family).name == stock.family
        assert stock.width is None
        assert not stock.self_seals


def test_every_choice_of_wrap_pan_and_unit_is_in_some_scheme() -> None:
    cards = schemes()
    assert {card.scheme.wrap for card in cards} == set(WrapWhen)
    assert {card.scheme.pan for card in cards} == set(PanMake)
    assert {card.scheme.unit for card in cards} == set(UnitSet)
    assert len({(c.scheme.wrap, c.scheme.pan, c.scheme.unit) for c in cards}) >= len(cards) - 1


@pytest.mark.parametrize("name", NAMES)
def test_every_scheme_dresses_an_opening(name: str) -> None:
    dressing = dressing_of(a_job(scheme=name))
    kinds = {sheet.kind for sheet in dressing.sheets}
    assert Kind.UNIT in kinds
    assert {Kind.PAN, Kind.METAL} & kinds
    assert {Kind.WRAP, Kind.FACE} & kinds
