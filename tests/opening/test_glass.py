from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from tests.opening.walls import WINDOW

from sillwright.findings import Finding
from sillwright.opening import CHECKS
from sillwright.rules import examine, rule_book

BOOK = rule_book("2018")
PLACES = {
    "glass.in_door": {"kind": "door"},
    "glass.beside_door": {"pane_to_door": 12.0},
    "glass.large_and_low": {"pane_area_sqft": 12.0, "pane_bottom_above_floor": 6.0},
    "glass.wet": {"pane_faces_tub_or_shower": True},
    "glass.stair": {"pane_to_stair": 20.0, "pane_above_stair": 20.0},
    "glass.stair_foot": {"pane_to_stair_foot": 50.0, "pane_above_stair_foot": 20.0},
}
"""What makes each place hazardous at an otherwise harmless pane."""


def _status(ident: str, **changed: Any) -> tuple[str, Finding | None]:
    (check,) = (check for check in CHECKS if check.id == ident)
    (result,) = examine([check], replace(WINDOW, **changed), BOOK, place="A")
    return result.status, result.finding


@pytest.mark.parametrize(("ident", "hazard"), PLACES.items())
def test_ordinary_glass_in_a_hazardous_place_is_to_be_changed(ident: str, hazard: dict[str, Any]) -> None:
    status, finding = _status(ident, **hazard)
    assert status == "not met"
    assert finding is not None
    assert finding.severity == "fix"
    assert finding.message.endswith("It is stated as ordinary glass.")
    assert finding.source.startswith("IRC 2018, R308.4.")


@pytest.mark.parametrize(("ident", "hazard"), PLACES.items())
def test_glass_of_which_nobody_spoke_counts_as_not_labelled(ident: str, hazard: dict[str, Any]) -> None:
    _, finding = _status(ident, safety_glass=None, **hazard)
    assert finding is not None
    assert finding.message.endswith("Nobody stated what glass it is.")


@pytest.mark.parametrize(("ident", "hazard"), PLACES.items())
def test_labelled_safety_glazing_is_well_anywhere(ident: str, hazard: dict[str, Any]) -> None:
    assert _status(ident, safety_glass=True, **hazard)[0] == "met"


@pytest.mark.parametrize("ident", [ident for ident in PLACES if ident not in {"glass.in_door", "glass.wet"}])
def test_ordinary_glass_in_a_harmless_place_is_well(ident: str) -> None:
    assert _status(ident)[0] == "met"


@pytest.mark.parametrize("ident", PLACES)
def test_an_opening_without_glass_has_no_glass_to_check(ident: str) -> None:
    assert _status(ident, glass=False)[0] == "does not apply"


@pytest.mark.parametrize(
    ("ident", "changed"),
    [
        ("glass.large_and_low", {"pane_area_sqft": 9.0, "pane_bottom_above_floor": 6.0}),
        ("glass.large_and_low", {"pane_area_sqft": 12.0, "pane_bottom_above_floor": 18.0}),
        (
            "glass.large_and_low",
            {"pane_area_sqft": 12.0, "pane_bottom_above_floor": 6.0, "pane_top_above_floor": 36.0},
        ),
        (
            "glass.large_and_low",
            {"pane_area_sqft": 12.0, "pane_bottom_above_floor": 6.0, "walking_surface_within": 36.25},
        ),
        ("glass.beside_door", {"pane_to_door": 12.0, "pane_bottom_above_floor": 60.0}),
        ("glass.beside_door", {"pane_to_door": 12.0, "pane_place_to_door": "square wall, latch side"}),
        ("glass.beside_door", {"pane_to_door": 12.0, "pane_decorative": True}),
        ("glass.in_door", {"kind": "door", "pane_passes_3in_sphere": False}),
        ("glass.in_door", {"kind": "door", "pane_decorative": True}),
        ("glass.wet", {"pane_faces_tub_or_shower": True, "pane_bottom_above_floor": 60.0}),
        ("glass.stair", {"pane_to_stair": 20.0, "pane_above_stair": 36.0}),
        ("glass.stair_foot", {"pane_to_stair_foot": 60.25, "pane_above_stair_foot": 20.0}),
    ],
)
def test_one_condition_that_fails_clears_the_place(ident: str, changed: dict[str, Any]) -> None:
    # IRC 2018, R308.4.1 to R308.4.7; the heights at stairs from memory
    assert _status(ident, **changed)[0] == "met"


def test_one_condition_known_to_fail_clears_the_place_whatever_is_unknown() -> None:
    unknown = dict.fromkeys(("pane_bottom_above_floor", "pane_top_above_floor", "walking_surface_within"))
    assert _status("glass.large_and_low", **unknown)[0] == "met"
    status, finding = _status("glass.large_and_low", pane_area_sqft=12.0, **unknown)
    assert status == "not checked"
    assert finding is not None
    assert finding.message.endswith(
        "needs: the height of the pane's lower edge above the floor; the height of the pane's upper edge "
        "above the floor; the level distance from the pane to where people walk."
    )
