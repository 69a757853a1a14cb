from __future__ import annotations

import pytest
from tests.materials.products import roll

from sillwright.errors import BadInput
from sillwright.findings import Finding
from sillwright.materials import Product, can_stick
from sillwright.rules import amended, rule_book


def _told(what: str | Product, surface: float, air: float = 60.0, dew: float = -10.0) -> dict[str, Finding]:
    found = can_stick(what, surface_f=surface, air_f=air, dew_point_f=dew, place="A", wet=False, frost=False)
    return {each.id.split(".A.", maxsplit=1)[0].removeprefix("finding.stick."): each for each in found}


def _severities(what: str | Product, surface: float, air: float = 60.0) -> dict[str, str]:
    return {name: each.severity for name, each in _told(what, surface, air).items()}


@pytest.mark.parametrize(
    ("family", "surface", "told"),
    [
        ("rubberized asphalt tape", 40.0, {}),
        ("rubberized asphalt tape", 39.0, {"cold": "fix"}),
        ("butyl tape", 45.0, {}),
        ("butyl tape", 44.0, {"ask": "watch"}),
        ("butyl tape", 0.0, {"ask": "watch"}),
        ("butyl tape", -1.0, {"cold": "fix"}),
        ("acrylic tape", 40.0, {}),
        ("acrylic tape", 39.0, {"ask": "watch"}),
        ("polyurethane sealant", 32.0, {}),
        ("polyurethane sealant", 31.0, {"joint_freezing": "fix"}),
        ("acrylic latex sealant", 31.0, {"latex_freezing": "stop"}),
    ],
)
def test_without_a_sheet_the_family_says_what_is_known_of_it(
    family: str, surface: float, told: dict[str, str]
) -> None:
    assert _severities(family, surface) == told


@pytest.mark.parametrize(
    ("air", "told"), [(40.0, {}), (39.0, {"cold": "fix"}), (90.0, {}), (91.0, {"hot": "fix"})]
)
def test_sealants_go_by_the_air(air: float, told: dict[str, str]) -> None:
    assert _severities("STPE sealant", 60.0, air) == told


def test_the_colder_of_surface_and_air_counts_for_tapes() -> None:
    assert _severities("rubberized asphalt tape", 60.0, 39.0) == {"cold": "fix"}


def test_the_products_own_sheet_comes_first() -> None:
    hardy = roll("roll A", "rubberized asphalt tape", least_f=20.0, most_f=110.0)
    assert _severities(hardy, 25.0) == {}
    (cold,) = _told(hardy, 19.0).values()
    assert (cold.severity, cold.limit) == ("fix", "at least 20 F")
    assert cold.source == "product sheet of roll A, dated 2026-03-02, as the job states it"
    assert _severities(hardy, 111.0) == {"hot": "fix"}
    tender = roll("roll B", "acrylic tape", least_f=50.0)
    assert _severities(tender, 45.0) == {"cold": "fix"}


def test_a_liquid_without_a_sheet_is_asked_about() -> None:
    (found,) = _told("liquid flashing", 60.0).values()
    assert "ask the maker: the lowest temperature for liquid flashing" in found.message
    assert _told(roll("pail L", "liquid flashing", least_f=35.0), 60.0) == {}


@pytest.mark.parametrize(
    ("dew", "told"),
    [
        (50.0, {"dew": "stop"}),
        (51.0, {"dew": "stop"}),
        (49.0, {"dew_margin": "watch"}),
        (44.6, {}),
        (44.0, {}),
    ],
)
def test_the_surface_must_be_above_the_dew_point_and_better_3_c_above_it(
    dew: float, told: dict[str, str]
) -> None:
    found = _told("butyl tape", 50.0, dew=dew)
    assert {name: each.severity for name, each in found.items()} == told


def test_the_margin_says_that_it_is_taken_by_analogy() -> None:
    assert "taken by analogy" in _told("butyl tape", 50.0, dew=49.0)["dew_margin"].source


@pytest.mark.parametrize(("wet", "frost"), [(True, None), (None, True), (True, False), (False, True)])
def test_nothing_goes_on_water_or_frost(wet: bool | None, frost: bool | None) -> None:
    found = can_stick("butyl tape", surface_f=60, air_f=60, dew_point_f=10, wet=wet, frost=frost)
    assert [each.severity for each in found] == ["stop"]


def test_what_nobody_looked_at_or_measured_is_told() -> None:
    (look,) = can_stick("butyl tape", surface_f=60, air_f=60, dew_point_f=10)
    assert look.severity == "watch"
    assert "whether the surface is wet; whether there is frost on it" in look.message
    (unknown,) = can_stick("butyl tape", surface_f=None, air_f=60, dew_point_f=None, wet=False, frost=False)
    assert "the temperature of the surface" in unknown.message
    assert "warm enough to stick" in unknown.message


def test_findings_of_two_products_at_one_place_have_ids_of_their_own() -> None:
    ids = [
        each.id
        for what in ("roll A", "roll B")
        for each in can_stick(roll(what), surface_f=-5, air_f=60, dew_point_f=-20, place="A")
    ]
    assert len(ids) == len(set(ids)) == 4


def test_a_local_amendment_moves_the_limit() -> None:
    text = 'title = "Town"\n[[limit]]\nid = "stick.asphalt"\nvalue = 50\n'
    book = amended(rule_book("2018"), text, name="town.toml", check_ids=())
    found = can_stick(
        "rubberized asphalt tape", surface_f=45, air_f=60, dew_point_f=0, book=book, wet=False, frost=False
    )
    assert [each.limit for each in found] == ["at least 50 F"]


@pytest.mark.parametrize(("surface", "family"), [(float("nan"), "butyl tape"), (50.0, "tape")])
def test_what_cannot_be_is_refused(surface: float, family: str) -> None:
    with pytest.raises(BadInput):
        can_stick(family, surface_f=surface, air_f=60, dew_point_f=10)
