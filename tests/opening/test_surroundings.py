from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from tests.opening.walls import WINDOW

from sillwright.opening import CHECKS
from sillwright.opening.surroundings import table_zone
from sillwright.rules import Result, amended, examine, rule_book


def _result(ident: str, edition: str = "2021", **changed: Any) -> Result:
    (check,) = (check for check in CHECKS if check.id == ident)
    (result,) = examine([check], replace(WINDOW, **changed), rule_book(edition), place="A")
    return result


@pytest.mark.parametrize(
    ("zone", "found"),
    [
        ("5A", "5"),
        ("4C", "marine 4"),
        ("4 marine", "marine 4"),
        ("Marine  4", "marine 4"),
        ("2", "2"),
        ("6b", "6"),
    ],
)
def test_a_climate_zone_is_known_by_its_usual_names(zone: str, found: str) -> None:
    assert table_zone(zone) == found


@pytest.mark.parametrize(
    ("u_factor", "high", "status"),
    [
        (0.30, False, "met"),
        (0.31, False, "not met"),
        (0.32, True, "met"),
        (0.33, True, "not met"),
        (0.30, None, "met"),
        (0.31, None, "not checked"),
        (0.33, None, "not met"),
    ],
)
def test_high_or_windborne_places_are_allowed_a_little_more(
    u_factor: float, high: bool | None, status: str
) -> None:
    # Wash. Admin. Code 51-11R-40211 (2021 IECC as amended): 0.30, and 0.32 above 4,000 ft or windborne
    assert _result("energy.u_factor", u_factor=u_factor, high_or_windborne=high).status == status


def test_the_edition_makes_a_difference_in_zone_3() -> None:
    # IECC Table R402.1.2, zone 3: 0.32 in 2018, 0.30 in 2021 (both from memory)
    found = [
        _result("energy.u_factor", edition, climate_zone="3", u_factor=0.31) for edition in ("2018", "2021")
    ]
    assert [result.status for result in found] == ["met", "not met"]
    assert "from memory" in found[1].source


def test_where_the_code_sets_no_solar_limit_none_is_checked() -> None:
    assert _result("energy.shgc", climate_zone="6", shgc=0.9).status == "does not apply"
    assert _result("energy.shgc", climate_zone="2", shgc=0.26).status == "not met"


def test_a_zone_that_is_not_in_the_table_is_refused() -> None:
    result = _result("energy.u_factor", climate_zone="9")
    assert result.status == "outside table"
    assert "it has no climate zone '9'; it has 0, 1, 2" in result.why


@pytest.mark.parametrize(
    ("distance", "nearest", "share"),
    [
        (35.75, "not met", "does not apply"),
        (36, "met", "not met"),
        (59, "met", "not met"),
        (60, "met", "does not apply"),
    ],
)
def test_the_lot_line_forbids_openings_then_limits_their_share(
    distance: float, nearest: str, share: str
) -> None:
    # IRC 2018, Table R302.1(1): none within 3 ft, 25 % from 3 to 5 ft
    assert _result("fire.distance", lot_line_distance=distance).status == nearest
    assert _result("fire.share", lot_line_distance=distance, openings_share_pct=26.0).status == share


@pytest.mark.parametrize(("year", "status"), [(1977, "not met"), (1978, "met"), (None, "not checked")])
def test_old_paint_is_taken_as_lead_before_1978(year: int | None, status: str) -> None:
    # 40 CFR 745, subpart E: target housing is built before 1978
    assert _result("paint.lead", year_built=year).status == status


@pytest.mark.parametrize(("cut", "status"), [(True, "not met"), (None, "not met"), (False, "does not apply")])
def test_wires_and_pipes_are_called_to_mind_unless_nothing_is_cut(cut: bool | None, status: str) -> None:
    # common practice, no source
    result = _result("wall.services", wall_cut=cut)
    assert result.status == status
    assert result.source == "common practice, no source"


def test_a_rule_that_a_state_struck_out_is_not_checked_and_says_so() -> None:
    ids = [check.id for check in CHECKS]
    text = 'title = "a state"\n[[strike]]\ncheck = "fall.low_sill"\n'
    book = amended(rule_book("2018"), text, name="state.toml", check_ids=ids)
    facts = replace(WINDOW, sill_above_ground=200.0, sill_above_floor=10.0)
    (result,) = (r for r in examine(CHECKS, facts, book, place="A") if r.check.id == "fall.low_sill")
    assert (result.status, result.finding) == ("struck out", None)
