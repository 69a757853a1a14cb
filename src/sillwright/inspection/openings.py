"""From the units of a job to the facts that the code checks of openings ask for, and what they come to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from typing import Any

from sillwright.heights import ChainResult, at, difference
from sillwright.inspection.facts import swing
from sillwright.inspection.ledger_load import PSF_PER_KPA
from sillwright.job import Job, UnitToSet
from sillwright.opening import CHECKS, OpeningFacts
from sillwright.rules import Check, Result, RuleBook, examine
from sillwright.setting.bearing import walked_over
from sillwright.survey import Survey

_GLASS = tuple(check for check in CHECKS if check.id.startswith("glass."))
_REST = tuple(check for check in CHECKS if not check.id.startswith("glass."))
_PANE = tuple(
    each.name
    for each in fields(OpeningFacts)
    if each.name.startswith("pane_") or each.name in ("safety_glass", "walking_surface_within")
)


def stated(unit: UnitToSet) -> bool:
    """Tell whether anything is stated for the checks of a unit."""
    return unit.facts is not None or bool(unit.pane)


def opening_results(
    job: Job, survey: Survey, book: RuleBook, *, heights: ChainResult | None
) -> tuple[Result, ...]:
    """Return what each check came to at every unit that anything is stated of.

    Args:    heights: the chains of the openings above the deck, solved; None where there are none
    """
    found: list[Result] = []
    for unit in job.unit:
        if stated(unit):
            found += _unit(unit, opening_facts(job, survey, unit, heights=heights), book, job)
    return tuple(found)


def _unit(unit: UnitToSet, facts: OpeningFacts, book: RuleBook, job: Job) -> Iterator[Result]:
    yield from _run(_REST, facts, book, unit.opening, job)
    if not unit.pane:
        yield from _run(_GLASS, facts, book, unit.opening, job)
    for number, pane in enumerate(unit.pane, start=1):
        place = unit.opening if len(unit.pane) == 1 else f"{unit.opening}.pane{number}"
        own = {name: getattr(pane, name) for name in _PANE}
        yield from _run(_GLASS, replace(facts, glass=True, **own), book, place, job)


def _run(
    checks: tuple[Check, ...], facts: OpeningFacts, book: RuleBook, place: str, job: Job
) -> tuple[Result, ...]:
    return examine(checks, facts, book, place=place, units=job.units)


def opening_facts(
    job: Job, survey: Survey, unit: UnitToSet, *, heights: ChainResult | None = None
) -> OpeningFacts:
    """Return the facts of one unit: what is stated wins over what follows from readings and heights."""
    known: dict[str, Any] = {**_derived(job, survey, unit), **_of_heights(heights, unit.opening)}
    known |= _said(unit)
    return OpeningFacts(**known)


def _derived(job: Job, survey: Survey, unit: UnitToSet) -> Mapping[str, Any]:
    site, door = job.site, walked_over(unit)
    shape = next((each for each in survey.openings if each.name == unit.opening), None)
    snow = site.ground_snow_psf
    if snow is None and site.ground_snow_kPa is not None:
        snow = site.ground_snow_kPa * PSF_PER_KPA
    leaf = swing(unit)
    return {
        "kind": "door" if door else "window",
        "year_built": site.year_built,
        "climate_zone": site.climate_zone,
        "high_or_windborne": site.high_or_windborne,
        "ground_snow_psf": snow,
        "door_width": unit.frame_width if door else None,
        "door_swings_over_landing": leaf == "out" if door and leaf is not None else None,
        "header_span": shape.right - shape.left if shape is not None and shape.position_known else None,
    }


def _of_heights(result: ChainResult | None, opening: str) -> dict[str, Any]:
    """Return the drops beside the threshold of a door whose heights were worked out, and off its deck."""
    threshold = at("threshold", opening)
    if result is None or not result.has(threshold):
        return {}
    drops: dict[str, Any] = {}
    outside = _between(result, "walking surface", threshold)
    inside = _between(result, at("lowest finished floor", opening), threshold)
    off = _between(result, "grade", "walking surface")
    if outside is not None:
        drops |= {"drop_outside": outside, "landing_outside": True}
    if inside is not None:
        drops["drop_inside"] = inside
    if off is not None:
        drops["drops"] = ((0.0, off),)
    return drops


def _between(result: ChainResult, lower: str, upper: str) -> float | None:
    if not (result.has(lower) and result.has(upper)):
        return None
    return difference(result, lower=lower, upper=upper).size


def _said(unit: UnitToSet) -> dict[str, Any]:
    if unit.facts is None:
        return {}
    told = {name: getattr(unit.facts, name) for name in type(unit.facts).model_fields if name != "drop"}
    said = {name: value for name, value in told.items() if value is not None}
    if unit.facts.drop:
        said["drops"] = tuple((each.out, each.drop) for each in unit.facts.drop)
    return said
