"""Guards: where the drop beside a walking surface asks for one, how high, how close. IRC R312.1."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sillwright.rules import Case, Check, Source, Verdict


def largest_drop(drops: Sequence[tuple[float, float]], *, within: float) -> float:
    """Return the largest drop at most `within` out from the edge [in]; 0 where there is none so near.

    Args:  drops: pairs of distance out from the edge and drop there, each holding up to the next
    """
    return max((drop for out, drop in drops if out <= within), default=0.0)


def _is_door(case: Case) -> bool:
    # what people walk on outside begins at a door; a low window is a matter of R312.2
    return case.word("kind") == "door"


def _has_guard(case: Case) -> bool:
    return case.every(lambda: _is_door(case), lambda: case.yes("guard"))


def _drop(case: Case) -> Verdict | None:
    if not _is_door(case):
        return None
    # R312.1.1: more than 30 in at any point within 36 in out from the edge
    within = case.limit("guard.drop_within").value
    verdict = case.at_most(largest_drop(case.fact("drops"), within=within), "guard.drop")
    if verdict.met or not case.yes("guard"):
        return verdict
    return replace(verdict, met=True)


def _height(case: Case) -> Verdict | None:
    if not _has_guard(case):
        return None
    on_stair = case.word("guard_place") != "level"
    return case.at_least(case.number("guard_height"), "guard.height_stair" if on_stair else "guard.height")


_SPHERES = {
    "level": "guard.sphere",
    "stair side": "guard.sphere_stair",
    "stair triangle": "guard.sphere_triangle",
}


def _sphere(case: Case) -> Verdict | None:
    if not _has_guard(case):
        return None
    return case.below(case.number("guard_passes_sphere"), _SPHERES[case.word("guard_place")])


_guard = Check(
    id="guard.needed",
    title="guard beside a drop",
    source=Source(title="IRC", section="R312.1.1"),
    facts=("kind", "drops", "guard"),
    limits=("guard.drop", "guard.drop_within"),
    severity="fix",
    message="Outside {place} it drops {value} and there is no guard; without one {limit} is allowed.",
    advice="Build the guard, and bar the door until it stands.",
    mark="landing",
    judge=_drop,
)

CHECKS = (
    _guard,
    replace(
        _guard,
        id="guard.height",
        title="height of the guard",
        source=Source(title="IRC", section="R312.1.2"),
        facts=("kind", "guard", "guard_place", "guard_height"),
        limits=("guard.height", "guard.height_stair"),
        message="The guard at {place} is {value} high; it needs {limit}.",
        advice="Raise the guard.",
        judge=_height,
    ),
    replace(
        _guard,
        id="guard.sphere",
        title="openings in the guard",
        source=Source(title="IRC", section="R312.1.3"),
        facts=("kind", "guard", "guard_place", "guard_passes_sphere"),
        limits=tuple(_SPHERES.values()),
        message="The guard at {place} passes a sphere of {value}; it must be {limit}.",
        advice="Close up the guard.",
        judge=_sphere,
    ),
)
