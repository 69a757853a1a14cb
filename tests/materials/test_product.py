from __future__ import annotations

from typing import Any

import pytest
from tests.materials.products import READ, roll

from sillwright.errors import BadInput
from sillwright.materials import Product, families, family


def test_a_family_is_found_by_its_name_and_is_of_its_own_group() -> None:
    found = family("rubberized asphalt tape")
    assert (found.kind, "asphalt membrane" in found.groups) == ("tape", True)
    assert all(each.name in each.groups for each in families())
    assert len({each.name for each in families()}) == len(families())


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("butyl tap", "Did you mean 'butyl tape'?"),
        ("rubberised asphalt tape", "Did you mean 'rubberized asphalt tape'?"),
        ("qqq", "Known: rubberized asphalt tape, "),
    ],
)
def test_an_unknown_family_is_refused_with_the_nearest(name: str, said: str) -> None:
    with pytest.raises(BadInput) as fault:
        family(name)
    assert said in str(fault.value)


def test_a_product_without_a_sheet_states_nothing() -> None:
    product = Product(name="roll A", family="butyl tape")
    assert (product.least_lap, product.self_seals, product.primer_on) == (None, None, None)
    assert product.of == family("butyl tape")


@pytest.mark.parametrize(
    "stated",
    [
        {"least_lap": 3.0},
        {"least_f": 25.0},
        {"most_f": 120.0},
        {"primer_on": ()},
        {"self_seals": False},
        {"primer": "below 40 F"},
        {"accepts": ("OSB",)},
        {"refuses": ("flexible PVC",)},
    ],
)
def test_what_a_sheet_says_needs_the_date_of_the_sheet(stated: dict[str, Any]) -> None:
    with pytest.raises(BadInput, match=r"roll A\.sheet_date: figures of a product sheet need the date"):
        Product(name="roll A", family="butyl tape", **stated)
    assert "dated 2026-03-02" in Product(name="roll A", family="butyl tape", sheet_date=READ, **stated).said


@pytest.mark.parametrize(
    ("stated", "said"),
    [
        ({"least_lap": 0.0}, "roll A.least_lap: 0.0 is no figure of a sheet"),
        ({"least_lap": -1.0}, "roll A.least_lap"),
        ({"least_f": float("nan")}, "roll A.least_f: nan is no figure"),
        ({"least_f": 50.0, "most_f": 40.0}, "50 F at least is more than 40 F at most"),
        ({"family": "butyl"}, "roll A.family: there is no family of materials 'butyl'"),
        ({"accepts": ("osb",)}, "roll A.accepts: there is no family of materials 'osb'. Did you mean 'OSB'?"),
        ({"refuses": ("ply",)}, "roll A.refuses: there is no family"),
        ({"primer_on": ("ply",)}, "roll A.primer_on: there is no family"),
        ({"accepts": ("OSB",), "refuses": ("OSB",)}, "'OSB' is both accepted and refused"),
        ({"name": " "}, "name: a product needs a name"),
    ],
)
def test_a_product_that_cannot_be_is_refused_with_where(stated: dict[str, Any], said: str) -> None:
    with pytest.raises(BadInput) as fault:
        roll(**stated)
    assert said in str(fault.value)


def test_every_fault_of_a_product_is_told_at_once() -> None:
    with pytest.raises(BadInput) as fault:
        Product(name="roll A", family="tap", least_lap=-1.0)
    assert len(fault.value.faults) == 3
