"""The egress door, thresholds, landings and stairs at a door. IRC R311."""

from __future__ import annotations

from dataclasses import replace

from sillwright.opening.measure import compared
from sillwright.rules import Case, Check, Source, Verdict


def _is_door(case: Case) -> bool:
    return case.word("kind") == "door"


def _is_egress(case: Case) -> bool:
    return case.every(lambda: _is_door(case), lambda: case.yes("required_egress_door"))


def _has_landing(case: Case) -> bool:
    return case.every(lambda: _is_door(case), lambda: case.yes("landing_outside"))


def _has_stair(case: Case) -> bool:
    return case.every(lambda: _is_door(case), lambda: case.yes("stair_outside"))


def _threshold_outside(case: Case) -> Verdict | None:
    if not _has_landing(case):
        return None
    drop = case.number("drop_outside")
    if not case.yes("required_egress_door"):
        return _swing_noted(case, case.at_most(drop, "threshold.other"))
    # R311.3.1: 1-1/2 in; outside 7-3/4 in where the door does not swing over the landing
    strict = case.at_most(drop, "threshold.egress")
    if strict.met or case.yes("door_swings_over_landing"):
        return strict
    return case.at_most(drop, "threshold.egress_no_swing")


def _swing_noted(case: Case, verdict: Verdict) -> Verdict:
    """Return the verdict for another door, whose swing over the drop is read both ways."""
    if verdict.met or not case.if_known("door_swings_over_landing"):
        return verdict
    return replace(verdict, detail="It also swings over the drop.")


def _threshold_inside(case: Case) -> Verdict | None:
    if not _is_door(case):
        return None
    name = "threshold.egress" if case.yes("required_egress_door") else "threshold.other"
    return case.at_most(case.number("drop_inside"), name)


def _landing_there(case: Case) -> Verdict | None:
    # R311.3.2: other doors need none outside with two risers or fewer, the door not over the stair
    if not _is_door(case):
        return None
    if case.yes("landing_outside"):
        return Verdict(met=True, value="a landing outside", limit="a landing outside")
    most = case.limit("landing.risers_without")
    exempt = case.every(
        lambda: not case.yes("required_egress_door"),
        lambda: case.number("risers_outside") <= most.value,
        lambda: not case.yes("door_swings_over_stair"),
    )
    limit = (
        f"a landing outside; none only at a door that is not the required egress door, with {most.value:g} "
        "risers or fewer and no swing over them"
    )
    return Verdict(met=exempt, value="no landing outside", limit=limit)


def _landing_width(case: Case) -> Verdict | None:
    if not _has_landing(case):
        return None
    width, door = case.number("landing_width"), case.number("door_width")
    return Verdict(
        met=width >= door,
        value=case.quantity(width, "in", against=door),
        limit=f"at least the door's {case.quantity(door, 'in')}",
    )


_egress = Check(
    id="door",
    title="",
    source=Source(title="IRC", section="R311.2"),
    facts=("kind", "required_egress_door"),
    severity="stop",
    message="",
    advice="Order a larger unit, or name another door as the required egress door.",
    mark="clear opening",
    judge=_landing_there,
)
_landing = replace(
    _egress,
    source=Source(title="IRC", section="R311.3"),
    facts=("kind", "landing_outside"),
    severity="fix",
    advice="Change the landing before the door is used.",
    mark="landing",
)
_stair = replace(_landing, facts=("kind", "stair_outside"), advice="Lay the flight out again.", mark="stair")

CHECKS = (
    replace(
        _egress,
        id="door.clear_width",
        title="clear width of the required egress door",
        facts=(*_egress.facts, "door_clear_width"),
        limits=("door.clear_width",),
        message="The egress door at {place} gives {value}; it needs {limit}.",
        judge=compared("door_clear_width", "at least", "door.clear_width", where=_is_egress),
    ),
    replace(
        _egress,
        id="door.clear_height",
        title="clear height of the required egress door",
        facts=(*_egress.facts, "door_clear_height"),
        limits=("door.clear_height",),
        message="The egress door at {place} gives {value}; it needs {limit}.",
        judge=compared("door_clear_height", "at least", "door.clear_height", where=_is_egress),
    ),
    replace(
        _landing,
        id="landing.there",
        title="landing outside a door",
        facts=(
            *_landing.facts,
            "required_egress_door",
            "risers_outside",
            "door_swings_over_stair",
        ),
        limits=("landing.risers_without",),
        message="There is {value} at {place}; the rule is {limit}.",
        advice="Build a landing, and bar the door until it is there.",
    ),
    replace(
        _landing,
        id="landing.width",
        title="width of the landing",
        facts=(*_landing.facts, "landing_width", "door_width"),
        message="The landing at {place} is {value} wide; it needs {limit}.",
        judge=_landing_width,
    ),
    replace(
        _landing,
        id="landing.length",
        title="length of the landing",
        facts=(*_landing.facts, "landing_length"),
        limits=("landing.length",),
        message="The landing at {place} is {value} long; it needs {limit}.",
        judge=compared("landing_length", "at least", "landing.length", where=_has_landing),
    ),
    replace(
        _landing,
        id="landing.slope",
        title="slope of the landing",
        facts=(*_landing.facts, "landing_slope_in_per_12"),
        limits=("landing.slope",),
        message="The landing at {place} slopes {value}; {limit} is allowed.",
        judge=compared("landing_slope_in_per_12", "at most", "landing.slope", where=_has_landing),
    ),
    replace(
        _landing,
        id="threshold.outside",
        title="step down outside the threshold",
        source=Source(title="IRC", section="R311.3.1 and R311.3.2"),
        facts=(
            *_landing.facts,
            "drop_outside",
            "required_egress_door",
            "door_swings_over_landing",
        ),
        limits=("threshold.egress", "threshold.egress_no_swing", "threshold.other"),
        message="The landing at {place} lies {value} below the top of the threshold; {limit} is allowed.",
        advice="Raise the landing, or lower the threshold.",
        mark="threshold",
        judge=_threshold_outside,
    ),
    replace(
        _landing,
        id="threshold.inside",
        title="step down inside the threshold",
        source=Source(title="IRC", section="R311.3.1 and R311.3.2"),
        facts=("kind", "drop_inside", "required_egress_door"),
        limits=("threshold.egress", "threshold.other"),
        message="The floor at {place} lies {value} below the top of the threshold; {limit} is allowed.",
        advice="Lower the threshold, or build the floor up.",
        mark="threshold",
        judge=_threshold_inside,
    ),
    replace(
        _stair,
        id="stair.riser",
        title="height of the risers",
        source=Source(title="IRC", section="R311.7.5.1"),
        facts=(*_stair.facts, "riser"),
        limits=("stair.riser",),
        message="The risers at {place} are {value}; {limit} is allowed.",
        judge=compared("riser", "at most", "stair.riser", where=_has_stair),
    ),
    replace(
        _stair,
        id="stair.tread",
        title="depth of the treads",
        source=Source(title="IRC", section="R311.7.5.2"),
        facts=(*_stair.facts, "tread"),
        limits=("stair.tread",),
        message="The treads at {place} are {value}; they need {limit}.",
        judge=compared("tread", "at least", "stair.tread", where=_has_stair),
    ),
    replace(
        _stair,
        id="stair.spread",
        title="evenness of the risers",
        source=Source(title="IRC", section="R311.7.5.1"),
        facts=(*_stair.facts, "riser_spread"),
        limits=("stair.spread",),
        message="The risers at {place} differ by {value}; {limit} is allowed.",
        judge=compared("riser_spread", "at most", "stair.spread", where=_has_stair),
    ),
    replace(
        _stair,
        id="stair.width",
        title="width of the stair",
        source=Source(title="IRC", section="R311.7.1"),
        facts=(*_stair.facts, "stair_width"),
        limits=("stair.width",),
        message="The stair at {place} is {value} wide; it needs {limit}.",
        judge=compared("stair_width", "at least", "stair.width", where=_has_stair),
    ),
    replace(
        _stair,
        id="stair.headroom",
        title="headroom over the stair",
        source=Source(title="IRC", section="R311.7.2"),
        facts=(*_stair.facts, "stair_headroom"),
        limits=("stair.headroom",),
        message="The stair at {place} has {value} of headroom; it needs {limit}.",
        judge=compared("stair_headroom", "at least", "stair.headroom", where=_has_stair),
    ),
)
