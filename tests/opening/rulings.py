"""A rule's answer for a case given in plain terms: the case goes through the checks, nothing else."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from sillwright.opening import (
    CHECKS,
    OpeningFacts,
    clear_area_sqft,
    is_grade_floor,
    largest_drop,
)
from sillwright.rules import RuleBook, examine
from sillwright.structure import HeaderLoad, header_span

Given = Mapping[str, Any]
_PLACES = {
    "in_plane": "in plane",
    "square_wall_hinge_side_inswing": "square wall, hinge side",
    "square_wall_latch_side_inswing": "square wall, latch side",
}


def ruling(rule: str, given: Given, book: RuleBook) -> Any:
    """Return what the checks say of a case: whether all are met, whether a hazard was found, or a number."""
    return _RULES[rule](given, book)


def statuses(ids: Iterable[str], facts: OpeningFacts, book: RuleBook) -> dict[str, str]:
    """Return what the named checks came to; every one must have come to a decision."""
    wanted = set(ids)
    checks = [check for check in CHECKS if check.id in wanted]
    assert len(checks) == len(wanted), f"no such checks: {wanted - {check.id for check in checks}}"
    found: dict[str, str] = {result.check.id: result.status for result in examine(checks, facts, book)}
    assert set(found.values()) <= {"met", "not met"}, found
    return found


def _all_met(*ids: str, **facts: Any) -> Callable[[RuleBook], bool]:
    return lambda book: set(statuses(ids, OpeningFacts(**facts), book).values()) == {"met"}


def _escape(given: Given, book: RuleBook) -> bool:
    # the case states whether it is a grade-floor opening; the checks judge by the height of the sill
    return _all_met(
        *(f"escape.{name}" for name in ("area", "height", "width", "sill")),
        escape_opening=True,
        room="sleeping",
        net_clear_width=given["net_clear_width_in"],
        net_clear_height=given["net_clear_height_in"],
        sill_above_floor=given["sill_above_floor_in"],
        sill_above_ground=0.0 if given["grade_floor"] else 120.0,
    )(book)


def _area(given: Given, _: RuleBook) -> float:
    return clear_area_sqft(given["net_clear_width_in"], given["net_clear_height_in"])


def _grade_floor(given: Given, book: RuleBook) -> bool:
    return is_grade_floor(
        given["sill_above_ground_in"], within=book.limits["escape.grade_floor_within"].value
    )


def _fall(given: Given, book: RuleBook) -> bool:
    facts = OpeningFacts(
        kind="window",
        operable=given["operable"],
        sill_above_ground=given["opening_above_grade_in"],
        sill_above_floor=given["lowest_clear_opening_above_floor_in"],
        largest_sphere=given["max_opening_in"],
        fall_device=False,
    )
    check = next(check for check in CHECKS if check.id == "fall.low_sill")
    (result,) = examine([check], facts, book)
    assert result.status in {"met", "not met", "does not apply"}
    return result.status == "not met"


def _guard_needed(given: Given, book: RuleBook) -> bool:
    near = [(given.get("distance_out_from_edge_in", 0), given.get("drop_in", 0))]
    drops = tuple((out, drop) for out, drop in given.get("drop_profile", near))
    assert largest_drop(drops, within=1e9) == max(drop for _, drop in drops)
    return not _all_met("guard.needed", kind="door", drops=drops, guard=False)(book)


def _guard_height(given: Given, book: RuleBook) -> bool:
    place = "stair side" if given["on_stair"] else "level"
    return _all_met(
        "guard.height", kind="door", guard=True, guard_place=place, guard_height=given["height_in"]
    )(book)


def _guard_opening(given: Given, book: RuleBook) -> bool:
    place, sphere = given["place"].replace("_", " "), given["largest_sphere_in"]
    return _all_met("guard.sphere", kind="door", guard=True, guard_place=place, guard_passes_sphere=sphere)(
        book
    )


def _threshold(given: Given, book: RuleBook) -> bool:
    side = {"exterior": "outside", "interior": "inside"}[given["side"]]
    facts = {
        "kind": "door",
        "landing_outside": True,
        "required_egress_door": given["door"] == "required_egress",
        "door_swings_over_landing": given["door_swings_over_landing"],
        f"drop_{side}": given["drop_below_threshold_top_in"],
    }
    return _all_met(f"threshold.{side}", **facts)(book)


def _no_landing(given: Given, book: RuleBook) -> bool:
    return _all_met(
        "landing.there",
        kind="door",
        landing_outside=False,
        required_egress_door=given["door"] == "required_egress",
        risers_outside=given["risers"],
        door_swings_over_stair=given["door_swings_over_stair"],
    )(book)


def _landing(given: Given, book: RuleBook) -> bool:
    return _all_met(
        *(f"landing.{name}" for name in ("there", "width", "length", "slope")),
        kind="door",
        landing_outside=True,
        door_width=given["door_width_in"],
        landing_width=given["landing_width_in"],
        landing_length=given["landing_length_in"],
        landing_slope_in_per_12=given["slope_in_per_12"],
    )(book)


def _stair(given: Given, book: RuleBook) -> bool:
    return _all_met(
        *(f"stair.{name}" for name in ("riser", "tread", "spread")),
        kind="door",
        stair_outside=True,
        riser=given["riser_in"],
        tread=given["tread_in"],
        riser_spread=given["riser_spread_in"],
    )(book)


def _beside_door(given: Given, book: RuleBook) -> bool:
    return not _all_met(
        "glass.beside_door",
        glass=True,
        pane_beside_door=True,
        pane_decorative=False,
        pane_to_door=given["distance_in"],
        pane_bottom_above_floor=given["bottom_edge_above_floor_in"],
        pane_place_to_door=_PLACES[given["position"]],
    )(book)


def _low_pane(given: Given, book: RuleBook) -> bool:
    return not _all_met(
        "glass.large_and_low",
        kind="window",
        glass=True,
        pane_area_sqft=given["pane_area_sqft"],
        pane_bottom_above_floor=given["bottom_edge_above_floor_in"],
        pane_top_above_floor=given["top_edge_above_floor_in"],
        walking_surface_within=given["walking_surface_within_in"],
    )(book)


def _in_door(given: Given, book: RuleBook) -> bool:
    return not _all_met(
        "glass.in_door",
        kind="door",
        glass=True,
        pane_passes_3in_sphere=given["opening_passes_3in_sphere"],
        pane_decorative=given["decorative"],
    )(book)


def _well(given: Given, book: RuleBook) -> bool:
    return _all_met(
        *(f"escape.{name}" for name in ("well_area", "well_size", "well_ladder")),
        escape_opening=True,
        room="basement",
        well=True,
        well_width=given["width_in"],
        well_projection=given["projection_in"],
        well_depth=given["depth_in"],
        well_ladder=given["ladder"],
    )(book)


def _header(given: Given, book: RuleBook) -> float:
    names = ("supports", "ground_snow_psf", "building_width_ft", "top_braced")
    load = HeaderLoad(**{name: given[name] for name in names})
    return header_span(given["header"], load=load, book=book).span.value


_RULES: dict[str, Callable[[Given, RuleBook], Any]] = {
    "egress_window": _escape,
    "egress_window_area_sqft": _area,
    "grade_floor_opening": _grade_floor,
    "window_fall_protection_required": _fall,
    "guard_required": _guard_needed,
    "guard_height_ok": _guard_height,
    "guard_opening_ok": _guard_opening,
    "threshold_ok": _threshold,
    "no_exterior_landing_ok": _no_landing,
    "landing_ok": _landing,
    "stair_ok": _stair,
    "safety_glazing_beside_door": _beside_door,
    "safety_glazing_window": _low_pane,
    "safety_glazing_in_door": _in_door,
    "window_well_ok": _well,
    "header_unbraced_span_in": _header,
}
