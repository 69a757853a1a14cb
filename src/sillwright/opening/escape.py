"""Emergency escape openings, their wells, and falls through low windows. IRC R310 and R312.2."""

from __future__ import annotations

from dataclasses import replace

from sillwright.opening.measure import compared
from sillwright.rules import Case, Check, Source, Verdict

SQUARE_INCHES_PER_SQUARE_FOOT = 144.0


def clear_area_sqft(width: float, height: float) -> float:
    """Return the net clear area of an opening [ft2]; width and height [in]."""
    return width * height / SQUARE_INCHES_PER_SQUARE_FOOT


def is_grade_floor(sill_above_ground: float, *, within: float) -> bool:
    """Tell whether an opening is a grade-floor opening: its sill close to the ground, above or below.

    Source:  IRC 2018, R202: not more than 44 in above or below
    """
    return abs(sill_above_ground) <= within


def _is_escape(case: Case) -> bool:
    # R310.1: every sleeping room, basement and habitable attic has at least one
    return case.every(lambda: case.yes("escape_opening"), lambda: case.word("room") in _ESCAPE_ROOMS)


_ESCAPE_ROOMS = ("sleeping", "basement", "habitable attic")


def _area(case: Case) -> Verdict | None:
    if not _is_escape(case):
        return None
    area = clear_area_sqft(case.number("net_clear_width"), case.number("net_clear_height"))
    full = case.at_least(area, "escape.area")
    if full.met:
        return full
    # short of the full area, it is the height of the sill that decides
    within = case.limit("escape.grade_floor_within").value
    if is_grade_floor(case.number("sill_above_ground"), within=within):
        return case.at_least(area, "escape.area_grade_floor")
    return full


def _has_well(case: Case) -> bool:
    return case.every(lambda: _is_escape(case), lambda: case.yes("well"))


def _well_area(case: Case) -> Verdict | None:
    if not _has_well(case):
        return None
    return case.at_least(
        clear_area_sqft(case.number("well_width"), case.number("well_projection")), "well.area"
    )


def _well_size(case: Case) -> Verdict | None:
    if not _has_well(case):
        return None
    return case.at_least(min(case.number("well_width"), case.number("well_projection")), "well.size")


def _well_ladder(case: Case) -> Verdict | None:
    if not _has_well(case):
        return None
    verdict = case.at_most(case.number("well_depth"), "well.ladder_over")
    if verdict.met or not case.yes("well_ladder"):
        return verdict
    return replace(verdict, met=True)


def _low_sill(case: Case) -> Verdict | None:
    # R312.2.1: operable, more than 72 in above grade, lowest clear opening under 24 in above the floor
    above, low, sphere = (case.limit(f"fall.{name}") for name in ("above_grade", "sill", "sphere"))
    if not case.every(
        lambda: case.word("kind") == "window",
        lambda: case.yes("operable"),
        lambda: case.number("sill_above_ground") > above.value,
    ):
        return None
    guarded = case.some(
        lambda: case.number("sill_above_floor") >= low.value,
        lambda: case.number("largest_sphere") < sphere.value,
        lambda: case.yes("fall_device"),
    )
    ball = case.quantity(sphere.value, "in")
    limit = f"at least {case.quantity(low.value, 'in')}, a device, or no sphere of {ball}"
    sill = case.if_known("sill_above_floor")
    value = "" if sill is None else case.quantity(sill, "in", against=low.value)
    return Verdict(met=guarded, value=value, limit=limit)


_ESCAPE = ("escape_opening", "room")
_WELL = (*_ESCAPE, "well")
_REPLACED = (
    "For a like-for-like replacement the building department may accept the old size; ask before ordering."
)

_escape = Check(
    id="escape",
    title="emergency escape opening",
    source=Source(title="IRC", section="R310.2"),
    facts=_ESCAPE,
    severity="stop",
    message="",
    advice=f"Choose a unit or hinge that opens further. {_REPLACED}",
    mark="clear opening",
    judge=_area,
)
_well = replace(_escape, facts=_WELL, severity="fix", advice="Make the well larger.", mark="well")
_size = Source(title="IRC", by_edition={"2018": "R310.2.1", "2021": "R310.2.2"})
_well_source = Source(title="IRC", by_edition={"2018": "R310.2.3", "2021": "R310.4.1"})

CHECKS = (
    replace(
        _escape,
        id="escape.area",
        title="net clear area of the escape opening",
        source=Source(title="IRC", section="R310.2.1"),
        facts=(*_ESCAPE, "net_clear_width", "net_clear_height", "sill_above_ground"),
        limits=("escape.area", "escape.area_grade_floor", "escape.grade_floor_within"),
        message="The escape opening at {place} is {value} clear; it needs {limit}.",
    ),
    replace(
        _escape,
        id="escape.height",
        title="net clear height of the escape opening",
        source=_size,
        facts=(*_ESCAPE, "net_clear_height"),
        limits=("escape.height",),
        message="The escape opening at {place} is {value} high; it needs {limit}.",
        judge=compared("net_clear_height", "at least", "escape.height", where=_is_escape),
    ),
    replace(
        _escape,
        id="escape.width",
        title="net clear width of the escape opening",
        source=_size,
        facts=(*_ESCAPE, "net_clear_width"),
        limits=("escape.width",),
        message="The escape opening at {place} is {value} wide; it needs {limit}.",
        judge=compared("net_clear_width", "at least", "escape.width", where=_is_escape),
    ),
    replace(
        _escape,
        id="escape.sill",
        title="sill height of the escape opening",
        source=Source(title="IRC", by_edition={"2018": "R310.2.2", "2021": "R310.2.3"}),
        facts=(*_ESCAPE, "sill_above_floor"),
        limits=("escape.sill",),
        message="The clear opening at {place} starts {value} above the floor; {limit} is allowed.",
        advice=f"Lower the sill, or use another opening of the room. {_REPLACED}",
        mark="sill",
        judge=compared("sill_above_floor", "at most", "escape.sill", where=_is_escape),
    ),
    replace(
        _well,
        id="escape.well_area",
        title="area of the window well",
        source=_well_source,
        facts=(*_WELL, "well_width", "well_projection"),
        limits=("well.area",),
        message="The well at {place} has {value}; it needs {limit}.",
        judge=_well_area,
    ),
    replace(
        _well,
        id="escape.well_size",
        title="width and projection of the window well",
        source=_well_source,
        facts=(*_WELL, "well_width", "well_projection"),
        limits=("well.size",),
        message="The well at {place} has {value} the short way; it needs {limit}.",
        judge=_well_size,
    ),
    replace(
        _well,
        id="escape.well_ladder",
        title="ladder of the window well",
        source=Source(title="IRC", by_edition={"2018": "R310.2.3.1", "2021": "R310.4.2"}),
        facts=(*_WELL, "well_depth", "well_ladder"),
        limits=("well.ladder_over",),
        message="The well at {place} is {value} deep and has no ladder; without one {limit} is allowed.",
        advice="Fit a ladder or steps.",
        judge=_well_ladder,
    ),
    Check(
        id="fall.low_sill",
        title="fall protection at a low sill",
        source=Source(title="IRC", section="R312.2.1"),
        facts=(
            "kind",
            "operable",
            "sill_above_ground",
            "sill_above_floor",
            "largest_sphere",
            "fall_device",
        ),
        limits=("fall.above_grade", "fall.sill", "fall.sphere"),
        severity="fix",
        message="The window at {place} opens {value} above the floor, high over ground; it needs {limit}.",
        advice="Raise the sill, limit the opening, or fit a fall prevention device to ASTM F2090.",
        mark="sill",
        judge=_low_sill,
    ),
)
