"""Escape, falls, landings, stairs and guards: what the published cases do not reach."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from tests.opening.walls import DOOR, WINDOW

from sillwright.opening import CHECKS, OpeningFacts, largest_drop
from sillwright.rules import Result, examine, rule_book

BOOK = rule_book("2018")


def _result(ident: str, facts: OpeningFacts, **changed: Any) -> Result:
    (check,) = (check for check in CHECKS if check.id == ident)
    (result,) = examine([check], replace(facts, **changed), BOOK, place="A")
    return result


@pytest.mark.parametrize("changed", [{"escape_opening": False}, {"room": "other"}])
def test_only_the_escape_opening_of_a_room_that_needs_one_is_held_to_its_size(
    changed: dict[str, Any],
) -> None:
    for name in ("area", "height", "width", "sill", "well_area", "well_size", "well_ladder"):
        assert _result(f"escape.{name}", WINDOW, **changed).status == "does not apply"


def test_a_small_opening_is_excused_by_its_height_over_the_ground_only_if_that_is_known() -> None:
    # 5.0 to 5.7 sq ft: IRC 2018, R310.2.1, grade-floor openings
    small = {"net_clear_width": 30.0, "net_clear_height": 25.0}
    heights = {44.0: "met", 44.25: "not met", -44.0: "met", None: "not checked"}
    for height, status in heights.items():
        assert _result("escape.area", WINDOW, sill_above_ground=height, **small).status == status


def test_a_large_opening_needs_no_height_over_the_ground() -> None:
    assert _result("escape.area", WINDOW, sill_above_ground=None).status == "met"


def test_an_escape_opening_too_small_is_a_stop_that_speaks_of_replacements() -> None:
    finding = _result("escape.width", WINDOW, net_clear_width=19.75).finding
    assert finding is not None
    assert finding.severity == "stop"
    assert "like-for-like replacement" in finding.advice


@pytest.mark.parametrize(
    ("depth", "ladder", "status"), [(44, False, "met"), (45, False, "not met"), (45, True, "met")]
)
def test_a_deep_well_has_a_ladder(depth: float, ladder: bool, status: str) -> None:
    assert _result("escape.well_ladder", WINDOW, well_depth=depth, well_ladder=ladder).status == status


HIGH = {"sill_above_ground": 120.0, "sill_above_floor": 12.0}


@pytest.mark.parametrize(
    ("changed", "status"),
    [
        ({}, "not met"),
        ({"fall_device": True}, "met"),
        ({"largest_sphere": 3.875}, "met"),
        ({"largest_sphere": 4.0}, "not met"),
        ({"sill_above_floor": 24.0}, "met"),
        ({"operable": False}, "does not apply"),
        ({"kind": "door"}, "does not apply"),
        ({"sill_above_ground": 72.0}, "does not apply"),
        ({"fall_device": None}, "not checked"),
        ({"fall_device": True, "largest_sphere": None, "sill_above_floor": None}, "met"),
    ],
)
def test_a_low_sill_high_over_the_ground_needs_one_protection(changed: dict[str, Any], status: str) -> None:
    # IRC 2018, R312.2.1
    assert _result("fall.low_sill", WINDOW, **(HIGH | changed)).status == status


@pytest.mark.parametrize(
    ("ident", "changed"),
    [
        ("door.clear_width", {"door_clear_width": 31.75}),
        ("door.clear_height", {"door_clear_height": 77.5}),
        ("landing.width", {"landing_width": 35.0}),
        ("landing.length", {"landing_length": 35.0}),
        ("landing.slope", {"landing_slope_in_per_12": 0.3}),
        ("landing.there", {"landing_outside": False}),
        ("threshold.outside", {"drop_outside": 8.0}),
        ("threshold.inside", {"drop_inside": 1.75}),
        ("stair.riser", {"riser": 8.0}),
        ("stair.tread", {"tread": 9.5}),
        ("stair.spread", {"riser_spread": 0.5}),
        ("stair.width", {"stair_width": 35.0}),
        ("stair.headroom", {"stair_headroom": 79.0}),
        ("guard.needed", {"guard": False}),
        ("guard.height", {"guard_height": 35.5}),
        ("guard.sphere", {"guard_passes_sphere": 4.0}),
    ],
)
def test_each_check_of_a_door_can_fail_and_then_tells_value_and_limit(
    ident: str, changed: dict[str, Any]
) -> None:
    assert _result(ident, DOOR).status == "met"
    result = _result(ident, DOOR, **changed)
    assert result.status == "not met"
    assert result.finding is not None
    assert result.value
    assert result.value in result.finding.message
    assert result.limit in result.finding.message


@pytest.mark.parametrize(
    "ident",
    [
        check.id
        for check in CHECKS
        if check.id.startswith(("door.", "landing.", "threshold.", "stair.", "guard."))
    ],
)
def test_a_window_has_no_landing_threshold_stair_or_guard(ident: str) -> None:
    assert _result(ident, WINDOW).status == "does not apply"


def test_another_door_may_have_a_step_that_the_egress_door_may_not() -> None:
    swings = {"drop_outside": 7.0, "door_swings_over_landing": True}
    assert _result("threshold.outside", DOOR, **swings).status == "not met"
    assert _result("threshold.outside", DOOR, required_egress_door=False, **swings).status == "met"


def test_a_step_too_high_at_another_door_that_swings_over_it_says_both() -> None:
    result = _result(
        "threshold.outside", DOOR, required_egress_door=False, drop_outside=8.0, door_swings_over_landing=True
    )
    assert result.finding is not None
    assert result.finding.message.endswith("It also swings over the drop.")


def test_without_a_landing_its_size_is_no_question() -> None:
    for name in ("landing.width", "landing.length", "landing.slope", "threshold.outside"):
        assert _result(name, DOOR, landing_outside=False).status == "does not apply"


@pytest.mark.parametrize(
    ("place", "height", "sphere"), [("level", 36, 4), ("stair side", 34, 4.375), ("stair triangle", 34, 6)]
)
def test_a_guard_is_held_to_the_limits_of_its_place(place: str, height: float, sphere: float) -> None:
    # IRC 2018, R312.1.2 and R312.1.3
    at = {"guard_place": place}
    assert _result("guard.height", DOOR, guard_height=height, **at).status == "met"
    assert _result("guard.height", DOOR, guard_height=height - 0.0625, **at).status == "not met"
    assert _result("guard.sphere", DOOR, guard_passes_sphere=sphere - 0.0625, **at).status == "met"
    assert _result("guard.sphere", DOOR, guard_passes_sphere=sphere, **at).status == "not met"


def test_a_small_drop_needs_no_guard_and_asks_for_none() -> None:
    assert _result("guard.needed", DOOR, drops=((0.0, 30.0),), guard=None).status == "met"


def test_the_drop_that_counts_is_the_largest_near_the_edge() -> None:
    assert largest_drop(((0, 10), (36, 31), (37, 90)), within=36) == 31
    assert largest_drop((), within=36) == 0
