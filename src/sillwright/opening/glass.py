"""Safety glazing: places where people fall against glass. IRC R308.4."""

from __future__ import annotations

from dataclasses import replace

from sillwright.rules import Case, Check, Source, Verdict

_ADVICE = "Order this pane as safety glazing, with its permanent label; nothing makes it so afterwards."
_MESSAGE = "The glass at {place} needs safety glazing: {value}; the rule takes in {limit}."


_LABELLED = Verdict(met=True, value="safety glazing, by its label")


def _hazard(case: Case, value: str, limit: str) -> Verdict:
    """Return the verdict at a hazardous place for glass that is not known to be labelled."""
    ordinary = case.if_known("safety_glass") is False
    told = "It is stated as ordinary glass." if ordinary else "Nobody stated what glass it is."
    return Verdict(met=False, value=value, limit=limit, detail=told)


def _clear(value: str, limit: str) -> Verdict:
    return Verdict(met=True, value=value, limit=limit)


def _in_door(case: Case) -> Verdict | None:
    # R308.4.1: fixed and moving door panels; not where a 3 in sphere cannot pass, nor decorative glass
    if not case.every(lambda: case.word("kind") == "door", lambda: case.yes("glass")):
        return None
    if case.if_known("safety_glass"):
        return _LABELLED
    sphere = case.limit("glass.door_sphere")
    hazardous = case.every(
        lambda: case.yes("pane_passes_3in_sphere"), lambda: not case.yes("pane_decorative")
    )
    limit = f"glass in a door that passes a sphere of {case.quantity(sphere.value, 'in')}"
    return (
        _hazard(case, "glass in a door", limit)
        if hazardous
        else _clear("too small an opening, or decorative", limit)
    )


def _beside_door(case: Case) -> Verdict | None:
    # R308.4.2: 1. in the plane of the door within 24 in of either side;
    #           2. on a wall square to it, within 24 in of the hinge side of an in-swinging door;
    #           both where the bottom exposed edge is less than 60 in above the floor
    if not case.every(lambda: case.yes("glass"), lambda: case.yes("pane_beside_door")):
        return None
    if case.if_known("safety_glass"):
        return _LABELLED
    within, below = case.limit("glass.door_within"), case.limit("glass.door_edge_below")
    hazardous = case.every(
        lambda: case.number("pane_bottom_above_floor") < below.value,
        lambda: case.number("pane_to_door") <= within.value,
        lambda: case.word("pane_place_to_door") != "square wall, latch side",
        lambda: not case.yes("pane_decorative"),
    )
    limit = (
        f"a lower edge less than {case.quantity(below.value, 'in')} up, "
        f"within {case.quantity(within.value, 'in')} of a door"
    )
    if not hazardous:
        return _clear("clear of the door", limit)
    to_door, up = case.number("pane_to_door"), case.number("pane_bottom_above_floor")
    return _hazard(case, f"{case.quantity(to_door, 'in')} from a door, {case.quantity(up, 'in')} up", limit)


def _large_and_low(case: Case) -> Verdict | None:
    # R308.4.3: all four conditions together
    if not case.every(lambda: case.word("kind") == "window", lambda: case.yes("glass")):
        return None
    if case.if_known("safety_glass"):
        return _LABELLED
    area, bottom = case.limit("glass.pane_area"), case.limit("glass.pane_bottom")
    top, walk = case.limit("glass.pane_top"), case.limit("glass.walk_within")
    hazardous = case.every(
        lambda: case.number("pane_area_sqft") > area.value,
        lambda: case.number("pane_bottom_above_floor") < bottom.value,
        lambda: case.number("pane_top_above_floor") > top.value,
        lambda: case.number("walking_surface_within") <= walk.value,
    )
    limit = (
        f"over {case.quantity(area.value, 'sqft')}, lower edge under {case.quantity(bottom.value, 'in')}, "
        f"upper edge over {case.quantity(top.value, 'in')}, people within {case.quantity(walk.value, 'in')}"
    )
    if not hazardous:
        return _clear("not all four conditions", limit)
    value = (
        f"{case.quantity(case.number('pane_area_sqft'), 'sqft', against=area.value)}, "
        f"{case.quantity(case.number('pane_bottom_above_floor'), 'in', against=bottom.value)} "
        f"to {case.quantity(case.number('pane_top_above_floor'), 'in', against=top.value)} up"
    )
    return _hazard(case, value, limit)


def _wet(case: Case) -> Verdict | None:
    # R308.4.5: walls that contain or face a tub, shower and the like, lower edge under 60 in
    if not case.every(lambda: case.yes("glass"), lambda: case.yes("pane_faces_tub_or_shower")):
        return None
    if case.if_known("safety_glass"):
        return _LABELLED
    below = case.limit("glass.wet_below")
    up = case.number("pane_bottom_above_floor")
    limit = f"a lower edge less than {case.quantity(below.value, 'in')} above the standing surface"
    value = f"{case.quantity(up, 'in', against=below.value)} up, facing a tub or shower"
    return _hazard(case, value, limit) if up < below.value else _clear(value, limit)


def _stair(case: Case) -> Verdict | None:
    # R308.4.6: beside stairs, landings between flights and ramps
    return _by_stair(case, "pane_to_stair", "pane_above_stair", ("glass.stair_within", "glass.stair_below"))


def _stair_foot(case: Case) -> Verdict | None:
    # R308.4.7: beside the landing at the bottom of a stair
    names = ("glass.stair_foot_within", "glass.stair_foot_below")
    return _by_stair(case, "pane_to_stair_foot", "pane_above_stair_foot", names)


def _by_stair(case: Case, distance: str, height: str, limits: tuple[str, str]) -> Verdict | None:
    if not case.every(lambda: case.yes("glass"), lambda: case.yes("pane_near_stair")):
        return None
    if case.if_known("safety_glass"):
        return _LABELLED
    within, below = case.limit(limits[0]), case.limit(limits[1])
    hazardous = case.every(
        lambda: case.number(distance) <= within.value, lambda: case.number(height) < below.value
    )
    limit = (
        f"a lower edge less than {case.quantity(below.value, 'in')} up, "
        f"within {case.quantity(within.value, 'in')}"
    )
    if not hazardous:
        return _clear("clear of the stair", limit)
    off, up = case.number(distance), case.number(height)
    return _hazard(case, f"{case.quantity(off, 'in')} off, {case.quantity(up, 'in')} up", limit)


_GLASS = Check(
    id="glass",
    title="safety glazing",
    source=Source(title="IRC", section="R308.4"),
    facts=("glass", "safety_glass"),
    severity="fix",
    message=_MESSAGE,
    advice=_ADVICE,
    decides="building department, or the maker's permanent label on the pane",
    mark="glass",
    judge=_in_door,
)

CHECKS = (
    replace(
        _GLASS,
        id="glass.in_door",
        title="safety glazing in a door",
        source=Source(title="IRC", section="R308.4.1"),
        facts=(*_GLASS.facts, "kind", "pane_passes_3in_sphere", "pane_decorative"),
        limits=("glass.door_sphere",),
    ),
    replace(
        _GLASS,
        id="glass.beside_door",
        title="safety glazing beside a door",
        source=Source(title="IRC", section="R308.4.2"),
        facts=(
            *_GLASS.facts,
            "pane_beside_door",
            "pane_bottom_above_floor",
            "pane_to_door",
            "pane_place_to_door",
            "pane_decorative",
        ),
        limits=("glass.door_within", "glass.door_edge_below"),
        advice=f"{_ADVICE} Exempt: behind a fixed barrier, or by a closet no more than 3 ft deep.",
        judge=_beside_door,
    ),
    replace(
        _GLASS,
        id="glass.large_and_low",
        title="safety glazing in a large low pane",
        source=Source(title="IRC", section="R308.4.3"),
        facts=(
            *_GLASS.facts,
            "kind",
            "pane_area_sqft",
            "pane_bottom_above_floor",
            "pane_top_above_floor",
            "walking_surface_within",
        ),
        limits=("glass.pane_area", "glass.pane_bottom", "glass.pane_top", "glass.walk_within"),
        advice=f"{_ADVICE} Exempt: behind a rail 34 to 38 in up that takes 50 lb a foot.",
        judge=_large_and_low,
    ),
    replace(
        _GLASS,
        id="glass.wet",
        title="safety glazing at a wet place",
        source=Source(title="IRC", section="R308.4.5"),
        facts=(*_GLASS.facts, "pane_faces_tub_or_shower", "pane_bottom_above_floor"),
        limits=("glass.wet_below",),
        judge=_wet,
    ),
    replace(
        _GLASS,
        id="glass.stair",
        title="safety glazing beside a stair",
        source=Source(title="IRC", section="R308.4.6"),
        facts=(*_GLASS.facts, "pane_near_stair", "pane_to_stair", "pane_above_stair"),
        limits=("glass.stair_within", "glass.stair_below"),
        judge=_stair,
    ),
    replace(
        _GLASS,
        id="glass.stair_foot",
        title="safety glazing at the foot of a stair",
        source=Source(title="IRC", section="R308.4.7"),
        facts=(*_GLASS.facts, "pane_near_stair", "pane_to_stair_foot", "pane_above_stair_foot"),
        limits=("glass.stair_foot_within", "glass.stair_foot_below"),
        judge=_stair_foot,
    ),
)
