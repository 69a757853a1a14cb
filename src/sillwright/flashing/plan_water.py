"""From a dressed wall to what the plan keeps of it: pieces, verdicts by place, and findings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from sillwright.errors import BadInput
from sillwright.findings import Finding
from sillwright.flashing.assumed import Assumed
from sillwright.flashing.bodies import known_products, with_bodies
from sillwright.flashing.checks import Checked, check_flashing
from sillwright.flashing.cut_out import CutOut, cut_out
from sillwright.flashing.design_head import HeadOfWater, design_head
from sillwright.flashing.dress import dress
from sillwright.flashing.edits import changed, held_until
from sillwright.flashing.from_job import FromJob, from_job
from sillwright.flashing.geometry import LeftOut
from sillwright.flashing.on_hand import taken
from sillwright.flashing.order_of_work import order_of_work
from sillwright.flashing.plan_findings import no_plans, not_judged, water_findings
from sillwright.flashing.plan_laps import Known, lap_table
from sillwright.flashing.plan_model import (
    Holds,
    WaterAct,
    WaterCorner,
    WaterLap,
    WaterPart,
    WaterPiece,
    WaterPlace,
    WaterPlan,
    WaterStanding,
    WaterStep,
)
from sillwright.flashing.schemes import schemes
from sillwright.flashing.touching import touching
from sillwright.flashing.way_words import sentence
from sillwright.inspection import InspectionRow, LedgerPlan
from sillwright.job import Job
from sillwright.lengths import Unit
from sillwright.rules import RuleBook
from sillwright.setting import Setting
from sillwright.survey import Survey
from sillwright.water import Dressing, Sheet
from sillwright.water.verdicts import Design, PlaceVerdict, Verdict, Water, judge
from sillwright.water.ways import Way

CELL = 1.0
"""Bonds are measured on cells no longer than this [in]; on the examples 1/8 in found at most 1/4 in less."""
LEDGER = "ledger"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dressed:
    """A wall of a job with every piece on it; None where nothing can be dressed."""

    source: FromJob
    dressing: Dressing | None
    refused: LeftOut | None = None
    """Why the wall as a whole cannot be dressed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Watered:
    """The water plan of a job and what it found."""

    water: WaterPlan | None
    findings: tuple[Finding, ...]
    rows: tuple[InspectionRow, ...] = ()
    """For the inspector's sheet."""


def dressed(job: Job, survey: Survey, setting: Setting, ledger: LedgerPlan | None) -> Dressed:
    """Return the wall of a job, dressed by its scheme, with its own changes and order.

    Raises:  BadInput: the job changes a piece that is not there, or one that cannot be changed so
    """
    source = from_job(job, survey, setting, ledger)
    if source.to_dress is None:
        return Dressed(source=source, dressing=None)
    try:
        dressing = dress(source.to_dress)
    except BadInput as error:
        fault = error.faults[0]
        refused = LeftOut(opening="", reason=f"{fault.where}: {fault.what}", advice=fault.advice)
        return Dressed(source=source, dressing=None, refused=refused)
    skip = tuple(each.opening for each in source.left_out)
    rolls = source.stock.by_name
    dressing = changed(dressing, job.water, rolls=rolls, own_only=source.own_only, skip=skip)
    return Dressed(source=source, dressing=with_bodies(job, dressing))


def check_water(job: Job, survey: Survey, setting: Setting, ledger: LedgerPlan | None) -> None:
    """Check the pieces that a job changes, names in an order or adds; no water is sent over the wall.

    Raises:  BadInput: what `plan_water` would refuse
    """
    if job.water.scheme == "none" or not job.unit:
        return
    wall = dressed(job, survey, setting, ledger)
    if wall.dressing is not None and (job.water.sheet or job.water.order):
        order_of_work(wall.dressing, changed=True)


@lru_cache(maxsize=4)
def _judged(dressing: Dressing, head_in_water: float) -> Water:
    """Return the verdicts on a dressed wall, kept as its laps are."""
    return judge(dressing, Design(head_in_water=head_in_water, cell_in=CELL))


def plan_water(
    job: Job, survey: Survey, setting: Setting, ledger: LedgerPlan | None, book: RuleBook
) -> Watered:
    """Return the water plan of a job, and what it found.

    Raises:  BadInput: the job changes a piece that is not there, or lays one that would have to pass
        through another
    """
    if not job.unit:
        return Watered(water=None, findings=())
    if job.water.scheme == "none":
        unjudged = not_judged("no water plan is wanted")
        return Watered(water=None, findings=(unjudged,), rows=(InspectionRow.of(unjudged, "not checked"),))
    wall = dressed(job, survey, setting, ledger)
    head = design_head(job.water, book, units=job.units)
    if wall.dressing is None:
        return Watered(water=None, findings=tuple(_nothing(wall)))
    rolls = taken(wall.source.stock, (sheet.stock.name for sheet in wall.dressing.sheets))
    assumed = (*wall.source.assumed, *rolls, *head.assumed)
    judged = _judged(wall.dressing, head.head)
    known = Known(products=wall.source.stock.products, book=book, units=job.units)
    steps, of_order = order_of_work(wall.dressing, changed=bool(job.water.sheet or job.water.order))
    table, of_laps = lap_table(wall.dressing, known)
    cut = cut_out(wall.dressing, job.water, job.units)
    plan = _plan(wall, judged, head, assumed, steps, table, cut, job.units)
    touches = touching(wall.dressing, *known_products(job, wall.source.stock))
    checked = _checked(job, wall.source, plan, book)
    found = (*water_findings(plan, job.units), *of_order, *of_laps, *cut.findings, *touches)
    rows = [InspectionRow.of(each) for each in found if each.severity != "watch"]
    return Watered(water=plan, findings=(*found, *checked.findings), rows=(*rows, *checked.rows))


def _checked(job: Job, source: FromJob, plan: WaterPlan, book: RuleBook) -> Checked:
    """Return the checks of the scheme; pieces that are all the job's own are not judged by it."""
    if source.own_only:
        unjudged = not_judged("all pieces are the job's own")
        return Checked(findings=(unjudged,), rows=(InspectionRow.of(unjudged, "not checked"),))
    if source.to_dress is None:
        return Checked(findings=(), rows=())
    leaking = {each.opening for each in plan.places if each.by_weight == "open"}
    return check_flashing(
        job, source.to_dress, book, water_psf=plan.pressure_psf, sheds=set(plan.openings) - leaking
    )


def _nothing(wall: Dressed) -> Iterator[Finding]:
    left_out = [*wall.source.left_out, *([wall.refused] if wall.refused is not None else [])]
    yield from no_plans(left_out)


def _plan(
    wall: Dressed,
    judged: Water,
    head: HeadOfWater,
    assumed: tuple[Assumed, ...],
    steps: tuple[WaterAct, ...],
    table: tuple[WaterLap, ...],
    cut: CutOut,
    units: Unit,
) -> WaterPlan:
    watch = {card.scheme.name: card.watch for card in schemes()}
    source, dressing = wall.source, wall.dressing
    assert source.to_dress is not None  # noqa: S101 - it was dressed
    assert dressing is not None  # noqa: S101
    openings = tuple(each.name for each in source.to_dress.wall.openings)
    return WaterPlan(
        scheme=source.scheme.name,
        scheme_words=source.scheme.words,
        scheme_watch=watch.get(source.scheme.name, ""),
        head=head.head,
        pressure_psf=head.psf,
        head_said=head.said,
        head_source=head.source,
        openings=openings,
        left_out=source.left_out,
        assumed=assumed,
        pieces=tuple(_pieces(dressing)),
        acts=steps,
        places=tuple(_place(each, openings, units) for each in judged.places),
        laps=table,
        cuts=cut.cuts,
        materials=cut.materials,
        corners=tuple(
            WaterCorner(
                id=f"water.corner.{each.corner}",
                words=each.words,
                angle_deg=each.angle_deg,
                held_by=each.held_by,
            )
            for each in judged.corners
        ),
        standing=tuple(
            WaterStanding(
                id=f"water.standing.{each.facet}", words=each.words, toward=each.toward, depth=each.depth
            )
            for each in judged.standing
        ),
        worst=_holds(judged.worst),
    )


_HOLDS: dict[Verdict, Holds] = {
    Verdict.SHEDS: "sheds",
    Verdict.HELD: "held by bond",
    Verdict.OPEN: "open",
}


def _holds(verdict: Verdict) -> Holds:
    return _HOLDS[verdict]


def _pieces(dressing: Dressing) -> Iterator[WaterPiece]:
    ordered = sorted(dressing.sheets, key=lambda sheet: sheet.laid)
    for number, sheet in enumerate(ordered, 1):
        yield WaterPiece(
            id=f"piece.{sheet.name}",
            name=sheet.name,
            number=number,
            words=sheet.words,
            kind=str(sheet.kind.value),
            opening=sheet.opening or "",
            roll=sheet.stock.name,
            family=sheet.stock.family,
            parts=tuple(_parts(sheet, ordered)),
        )


def _parts(sheet: Sheet, ordered: list[Sheet]) -> Iterator[WaterPart]:
    for panel in sheet.panels:
        yield WaterPart(
            name=panel.name,
            facet=panel.facet,
            u=panel.u,
            v=panel.v,
            bonded=panel.bonded,
            held_until=held_until(ordered, panel),
        )


def _place(found: PlaceVerdict, openings: tuple[str, ...], units: Unit) -> WaterPlace:
    return WaterPlace(
        id=f"water.{found.place}",
        place=found.place,
        words=found.words,
        opening=_whose(found.place, openings),
        by_weight=_holds(found.gravity),
        at_head=_holds(found.at_head),
        head_to_wet=found.head_to_wet,
        head_to_open=found.head_to_open,
        bond=found.bond_in,
        way=sentence(found.way, units) if found.way is not None else "",
        steps=tuple(_steps(found.way)) if found.way is not None else (),
    )


def _whose(place: str, openings: tuple[str, ...]) -> str:
    """Return the opening that a place is at; of names that begin alike, the longest."""
    bare = place.removeprefix("room.")
    own = [name for name in (*openings, LEDGER) if bare == name or bare.startswith(f"{name}.")]
    return max(own, key=len, default="")


def _steps(way: Way) -> Iterator[WaterStep]:
    for step in way.steps:
        yield WaterStep(
            facet=step.facet,
            over=step.over or "",
            under=step.under or "",
            bond=step.bond_in,
            points=step.points,
        )
