"""What code and guides ask of the flashing of each opening, for findings and for the inspector's sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sillwright.findings import Finding
from sillwright.flashing.plan_findings import LEAST_STANDING
from sillwright.flashing.practice import PanMake, SetUnit, ToDress, UnitSet, WrapWhen
from sillwright.inspection import InspectionRow
from sillwright.inspection.model import Came
from sillwright.job import Job
from sillwright.materials import StripMethod, WaterFacts, examine_water
from sillwright.rules import PRACTICE, Result, RuleBook
from sillwright.water import RoughOpening

_STRIPS: dict[UnitSet, StripMethod] = {
    UnitSet.STRIPS_OVER: "over the fin",
    UnitSet.STRIPS_UNDER: "under the fin",
}
_OF_FINS = ("strip.", "bead.")
"""Checks that ask about fins: a unit without one is not asked."""
_CAME: dict[str, Came] = {
    "met": "met",
    "not met": "not met",
    "not checked": "not checked",
    "outside table": "outside table",
    "struck out": "struck out",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What the checks came to."""

    findings: tuple[Finding, ...]
    rows: tuple[InspectionRow, ...]


def check_flashing(job: Job, wall: ToDress, book: RuleBook, *, water_psf: float, sheds: set[str]) -> Checked:
    """Return what the checks of flashing come to at every dressed opening.

    Args:    water_psf: pressure that drives water; sheds: openings where nothing is open by weight alone
    """
    results = [
        result
        for own in wall.wall.openings
        for result in _results(job, wall, own, book, water_psf=water_psf, sheds=own.name in sheds)
    ]
    not_met = (each.finding for each in results if each.status in ("not met", "outside table"))
    return Checked(
        findings=(*(each for each in not_met if each is not None), *_unchecked(results)),
        rows=tuple(_rows(results)),
    )


def _rows(results: list[Result]) -> Iterator[InspectionRow]:
    """Yield what each check came to: one row for the openings where it came to the same."""
    alike: dict[tuple[str, ...], list[Result]] = {}
    for each in results:
        if each.status in _CAME or _without_rule(each):
            own = each.place if each.status == "not met" else ""
            key = (each.check.id, each.status, each.value, each.limit, each.why, own)
            alike.setdefault(key, []).append(each)
    for group in alike.values():
        yield replace(_row(group[0]), place=", ".join(each.place for each in group))


def _results(
    job: Job, wall: ToDress, own: RoughOpening, book: RuleBook, *, water_psf: float, sheds: bool
) -> Iterator[Result]:
    unit = wall.unit(own)
    facts = _facts(job, wall, own, unit, water_psf=water_psf, sheds=sheds)
    for result in examine_water(facts, book, place=own.name, units=job.units):
        if unit.fin is not None or not result.check.id.startswith(_OF_FINS):
            yield result


def _facts(
    job: Job, wall: ToDress, own: RoughOpening, unit: SetUnit, *, water_psf: float, sheds: bool
) -> WaterFacts:
    """Return what the scheme makes of an opening, and what the job says besides."""
    said = job.water.facts.model_dump(exclude_none=True) if job.water.facts is not None else {}
    scheme, sizes, board = wall.scheme, wall.sizes, wall.wall.ledger
    below = board is not None and own.x[0] < board.x[1] and board.x[0] < own.x[1]
    strip = wall.rolls.strip.width if wall.rolls.strip.width is not None else sizes.strip
    known = {
        "laps_shingled": sheds,
        "strip_method": _STRIPS.get(scheme.unit),
        "wrap_first": scheme.wrap is WrapWhen.BEFORE,
        "strips_self_adhered": True,
        "strip_width": min(strip, sizes.strip),
        "jamb_strip_width": min(strip, sizes.strip),
        "jamb_above_head_fin": sizes.above_fin - (unit.fin or 0.0),
        "head_beyond_jamb": sizes.beyond,
        "opening_width": own.x[1] - own.x[0],
        "head_flap_taped_solid": False,
        "bead_along_bottom": False,
        "face_sealed_to_wrap": False,
        "wrap_behind_ledger": True,
        "ledger_below": below,
        "pan": True,
        "pan_drains": own.sill_rise * own.depth > -LEAST_STANDING,
        "head_and_jambs_flashed": True,
        "head_flashing": True,
        "drained": True,
        "pan_upturn": sizes.upturn,
        "sill_slope_pct": 100.0 * own.sill_rise,
        "back_dam": own.dam + own.sill_rise * own.depth,
        "end_dams": True,
        "end_dam": sizes.upturn,
        "water_psf": water_psf,
    }
    if scheme.wrap is WrapWhen.FACE:
        known["wrap_first"] = None
    if scheme.pan is PanMake.FORMED:
        known["end_dam"] = min(sizes.upturn, own.z[1] - own.z[0])
    return WaterFacts(**(known | said))


def _without_rule(result: Result) -> bool:
    """Say whether something was found that this place sets no number for."""
    return result.status == "does not apply" and bool(result.why and result.value)


def _row(result: Result) -> InspectionRow:
    finding = result.finding
    ident = finding.id if finding is not None and result.status == "not met" else ""
    return InspectionRow(
        id=ident or f"check.{result.check.id}.{result.place}",
        place=result.place,
        what=result.check.title if not ident or finding is None else finding.message,
        value=result.value,
        limit=result.limit or result.why,
        source=result.source,
        result="to know" if _without_rule(result) else _CAME[result.status],
        severity=finding.severity if finding is not None and ident else None,
        answer="",
        from_memory="from memory" in result.source,
    )


def _unchecked(results: list[Result]) -> Iterator[Finding]:
    lacking = dict.fromkeys(each.check.title for each in results if each.status == "not checked")
    if lacking:
        yield Finding(
            id="finding.unchecked.flashing",
            severity="watch",
            message=f"Not checked of the flashing, for lack of facts: {', '.join(lacking)}.",
            advice="The findings sheet says what each needs; state it in [water.facts].",
            source=PRACTICE,
        )
