"""What most people look up in a plan, under plain names: a view of the plan with nothing computed anew."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sillwright.flashing import Holds, WaterPlan, weakest_first
from sillwright.inspection import Height, LedgerFastener
from sillwright.plan import Plan
from sillwright.quantity import Inches
from sillwright.setting.model import Conflict, Line, Pad, Place, PlanedRun, RowPlan, Setting, UnitPosition
from sillwright.survey.model import Disturbed, NextReading, Suspect


@dataclass(frozen=True, slots=True, kw_only=True)
class RowEnds:
    """Where the sills of a row stand lowest and highest."""

    row: str
    openings: tuple[str, ...]
    low_end: Place
    high_point: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class PadSummary:
    """Thickness of the pad at one bearing point, at the front and the back edge of the sill."""

    number: int | None
    """None: no pad is needed, the sill is at the line or planed to it."""
    opening: str
    x: Inches
    front: Inches
    back: Inches | None
    """None: the inner edge was not shot."""
    make_up: str


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitSummary:
    """Where one unit stands, and the least room around it."""

    opening: str
    left: Inches
    right: Inches
    bottom: Inches
    top: Inches
    position_known: bool
    left_clearance: Inches | None
    right_clearance: Inches | None
    head_clearance: Inches | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FitSummary:
    """How surely one unit fits; probability None: not determined."""

    opening: str
    probability: float | None
    governed_by: str
    not_determined: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LargestSize:
    """Largest size on offer that fits as surely as asked; None: none does, or not determined."""

    opening: str
    width: Inches | None
    height: Inches | None
    probability: float | None
    wanted_probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterSummary:
    """Where water gets most easily at an opening, or at the ledger."""

    at: str
    worst: Holds
    """At the design head, with wind."""
    bond: Inches | None
    """Least bond that closes a way; None: it sheds, or is open."""
    opens_at_head: Inches | None
    """Least head at which a way is open; None: at none."""
    way: str
    """The weakest way in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """The answers of a plan by plain names."""

    suspect_readings: tuple[Suspect, ...]
    """Readings that contradict the others; `path` is the place in the job file."""
    disturbed_setups: tuple[Disturbed, ...]
    """Laser set-ups knocked in mid-series, and between which two shots."""
    low_end_and_high_point: tuple[RowEnds, ...]
    level_lines: tuple[Line, ...]
    pads: tuple[PadSummary, ...]
    """One entry for every bearing point."""
    planed_runs: tuple[PlanedRun, ...]
    unit_positions: tuple[UnitSummary, ...]
    probability_of_fit: tuple[FitSummary, ...]
    largest_sizes: tuple[LargestSize, ...]
    conflicts: tuple[Conflict, ...]
    story_pole_heights: tuple[Height, ...]
    """Every height from the footing to the head at the door above the deck, lowest first."""
    ledger_fasteners: tuple[LedgerFastener, ...]
    """Every fastener of the ledger, from its left end."""
    water: tuple[WaterSummary, ...]
    """One entry for each dressed opening, and for the ledger."""
    measure_next: tuple[NextReading, ...]


def summarise(plan: Plan) -> Summary:
    """Return the answers of a plan by plain names."""
    setting = plan.setting
    return Summary(
        suspect_readings=plan.survey.suspects,
        disturbed_setups=plan.survey.disturbed,
        low_end_and_high_point=tuple(_ends(row) for row in setting.rows),
        level_lines=tuple(line for row in setting.rows for line in row.lines),
        pads=_bearing_points(setting),
        planed_runs=setting.planed,
        unit_positions=tuple(_unit(unit) for unit in setting.units),
        probability_of_fit=tuple(_fit(unit) for unit in setting.units),
        largest_sizes=tuple(
            LargestSize(
                opening=order.opening,
                width=order.largest.width if order.largest else None,
                height=order.largest.height if order.largest else None,
                probability=order.largest.probability if order.largest else None,
                wanted_probability=order.wanted_probability,
            )
            for order in setting.order_sizes
        ),
        conflicts=setting.conflicts,
        story_pole_heights=plan.heights.levels if plan.heights else (),
        ledger_fasteners=plan.ledger.fasteners if plan.ledger else (),
        water=tuple(_water(plan.water)) if plan.water is not None else (),
        measure_next=plan.measure_next,
    )


def _water(water: WaterPlan) -> Iterator[WaterSummary]:
    for at in (*water.openings, "ledger"):
        own = [place for place in water.places if place.opening == at]
        if own:
            weakest = weakest_first(own)[0]
            heads = [each.head_to_open for each in own if each.head_to_open is not None]
            yield WaterSummary(
                at=at,
                worst=weakest.at_head,
                bond=weakest.bond if weakest.at_head == "held by bond" else None,
                opens_at_head=min(heads, default=None),
                way=weakest.way,
            )


def _ends(row: RowPlan) -> RowEnds:
    return RowEnds(row=row.id, openings=row.openings, low_end=row.low_end, high_point=row.high_point)


def _bearing_points(setting: Setting) -> tuple[PadSummary, ...]:
    bare = [
        PadSummary(
            number=None,
            opening=point.opening,
            x=point.x,
            front=0.0,
            back=0.0 if point.back_known else None,
            make_up="no pad",
        )
        for point in setting.bare
    ]
    return tuple(sorted([*(_pad(pad) for pad in setting.pads), *bare], key=lambda point: point.x))


def _pad(pad: Pad) -> PadSummary:
    return PadSummary(
        number=pad.number, opening=pad.opening, x=pad.x, front=pad.front, back=pad.back, make_up=pad.make_up
    )


def _unit(unit: UnitPosition) -> UnitSummary:
    left, right, head = unit.left_clearance, unit.right_clearance, unit.head_clearance
    return UnitSummary(
        opening=unit.opening,
        left=unit.left,
        right=unit.right,
        bottom=unit.bottom,
        top=unit.top,
        position_known=unit.position_known,
        left_clearance=left.least if left else None,
        right_clearance=right.least if right else None,
        head_clearance=head.least if head else None,
    )


def _fit(unit: UnitPosition) -> FitSummary:
    return FitSummary(
        opening=unit.opening,
        probability=unit.fit.probability if unit.fit else None,
        governed_by=unit.fit.governed_by if unit.fit else "",
        not_determined=unit.fit.not_determined if unit.fit else (),
    )
