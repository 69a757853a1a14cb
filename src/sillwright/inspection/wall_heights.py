"""From a job and its setting plan to the heights at the door above the deck."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import isfinite

from sillwright.errors import BadInput, Fault
from sillwright.findings import Finding
from sillwright.heights import (
    Backing,
    Chain,
    ChainResult,
    DeckHeights,
    Demand,
    DemandResult,
    DoorHeights,
    Ground,
    Landing,
    Layer,
    Place,
    Step,
    StepResult,
    UnitHeights,
    WallHeights,
    findings,
    section,
    solve,
    wall_chain,
)
from sillwright.heights.model import SDS_IN_WORST
from sillwright.inspection.book_limits import by_the_book
from sillwright.inspection.facts import Site, slug, swing
from sillwright.inspection.model import Height, HeightConflict, Heights, HeightStep, SectionShape
from sillwright.job import Deck, UnitToSet
from sillwright.lengths import show
from sillwright.rules import RuleBook
from sillwright.setting.model import Line, UnitPosition
from sillwright.structure import section as beam_section
from sillwright.survey.model import Station

_SETTLED = 100.0
"""Pads, planing and room at the head are settled by the setting plan: here they bound nothing [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtTheDoor:
    """Heights for the plan, with what they were made from."""

    wall: WallHeights
    result: ChainResult
    heights: Heights
    findings: tuple[Finding, ...]


def missing(site: Site) -> tuple[str, ...]:
    """Return what the job lacks for the heights at the door, in its own words; empty: nothing."""
    door = site.door
    if door is None:
        return ("a door: name its opening in deck.opening",)
    lacks = [
        f"deck.{key}"
        for key in ("threshold_above_unit_bottom", "decking_thickness", "ledger_depth")
        if getattr(site.deck, key) is None
    ]
    if site.line(door.opening) is None:
        lacks.append(f"a level line for {door.opening}")
    return tuple(lacks)


def at_the_door(site: Site, book: RuleBook) -> AtTheDoor:
    """Return the heights at the door of a site that lacks nothing, judged by a rule book.

    Raises:  BadInput: the ledger's stated top is above the sill
    """
    door = site.door
    line = site.line(door.opening) if door is not None else None
    position = site.position(door.opening) if door is not None else None
    if door is None or line is None or position is None:  # `missing` was to be asked first
        raise BadInput(Fault("deck", "its heights cannot be worked out.", "Name a door that is planned."))
    _refuse_high_ledger(site, line)
    wall, assumed = _wall(site, door, line, position)
    units = site.job.units
    chain = by_the_book(wall_chain(wall, units=units), wall, book, units=units)
    result = solve(_with_top(chain, site.deck))
    drawn = section(wall, result)
    heights = Heights(
        opening=door.opening,
        levels=_levels(result),
        steps=tuple(_step(step, result) for step in result.steps),
        demands=tuple(_step(demand, result) for demand in result.demands),
        conflicts=tuple(
            HeightConflict(texts=each.texts, short=each.short, sources=each.sources)
            for each in result.conflicts
        ),
        assumed=assumed,
        shapes=tuple(
            SectionShape(name=each.name, kind=each.kind, points=each.points) for each in drawn.shapes
        ),
    )
    left_out = (*(_OF_FLUSH if _flush(result, wall) else ()), *(_OF_BACKING if site.deck.backing else ()))
    told = (each for each in findings(wall, result, units=units, book=book) if each.id not in left_out)
    found = tuple(_named(_with_depth(each, site), result) for each in told)
    return AtTheDoor(wall=wall, result=result, heights=heights, findings=found)


_OF_FLUSH = ("heights.doubt.joists hung", "heights.doubt.hanger seat")
"""Joists as deep as the ledger and flush with it are made so at the wall, by eye: nothing is in doubt."""


_OF_BACKING = ("heights.ledger.backing",)
"""Where the job says what is behind, the findings of the attachment tell what is wrong with it."""


def _with_depth(finding: Finding, site: Site) -> Finding:
    """Return a finding that says what is really missing: a band joist shot on top has no depth yet."""
    if finding.id not in _OF_BACKING or not site.band:
        return finding
    return replace(
        finding,
        message="A ledger is wished; the top of the band joist was shot, but its depth is not stated.",
        advice="Open the wall, then state deck.band_joist_depth and deck.backing; or stand the deck on its "
        "own posts.",
    )


def _flush(result: ChainResult, wall: WallHeights) -> bool:
    if wall.deck is None or not wall.deck.ledger_depth or not result.has("ledger top"):
        return False
    tops = result.z("ledger top"), result.z("joist top")
    level = None not in tops and abs((tops[0] or 0.0) - (tops[1] or 0.0)) < 1 / 64
    return level and wall.deck.joist_depth <= wall.deck.ledger_depth + 1 / 64


def _named(finding: Finding, result: ChainResult) -> Finding:
    """Return a finding whose id and place are ids of the plan."""
    kind = "height" if result.has(finding.place) else "height.step"
    place = f"{kind}.{slug(finding.place)}" if finding.place else ""
    return replace(finding, id=f"finding.{slug(finding.id)}", place=place)


def _refuse_high_ledger(site: Site, line: Line) -> None:
    top = site.deck.ledger_top
    if top is not None and site.deck.ledger_depth and top > line.z:
        say = [show(length, unit=site.job.units, mark=True) for length in (top, line.z)]
        what = f"the ledger's top at {say[0]} is above the sill: its level line is at {say[1]}."
        raise BadInput(Fault("deck.ledger_top", what, "A ledger stands below the door: give a lower height."))


def _with_top(chain: Chain, deck: Deck) -> Chain:
    """Return the chain with the ledger's top where the job fixes it."""
    if deck.ledger_top is None:
        return chain
    top = deck.ledger_top
    levels = (replace(each, z=top) if each.name == "ledger top" else each for each in chain.levels)
    return replace(chain, levels=tuple(levels))


def _wall(
    site: Site, door: UnitToSet, line: Line, position: UnitPosition
) -> tuple[WallHeights, tuple[str, ...]]:
    deck, grade = site.deck, site.grade
    leaf = swing(door)
    assumed = [] if leaf is not None else ["which way the door swings: taken as if over neither side"]
    if door.facts is None or door.facts.required_egress_door is None:
        assumed.append("whether it is the required egress door: taken as another door")
    if deck.joist_depth is None:
        taken = "that of the ledger" if deck.ledger_depth else "that of a 2x8"
        assumed.append(f"depth of the joists: taken as {taken}")
    unit = _unit(site, line, position)
    ground = None
    if grade is not None:
        above, deep = deck.footing_above_grade, deck.footing_depth
        ground = Ground(grade=grade, footing_above_grade=above, footing_depth=deep)
    backing = None
    if deck.ledger_depth and site.band and deck.band_joist_depth is not None:
        backing = Backing(top=site.band, depth=deck.band_joist_depth)
    wall = WallHeights(unit=unit, door=_door(site, door), deck=_deck(deck), backing=backing, ground=ground)
    return wall, tuple(assumed)


def _unit(site: Site, line: Line, position: UnitPosition) -> UnitHeights:
    shape = site.shape(position.opening)
    above = line.unit_bottom - line.z
    layers = (Layer(name="all that lies on the pads", thickness=above),) if above > 0 else ()
    sill, head = _shot(shape.sill_outer), _shot(shape.head_outer)
    return UnitHeights(
        frame_height=position.height,
        line=line.z,
        layers=layers,
        rough_sill=sill,
        head=head if head and min(place.z for place in head) > position.top else (),
        largest_pad=_SETTLED,
        planing_max=_SETTLED,
        least_head_clearance=0.0,
    )


def _shot(stations: tuple[Station, ...]) -> tuple[Place, ...]:
    return tuple(Place(x=each.at, z=each.value, sd=each.sd) for each in stations if each.measured)


def _door(site: Site, door: UnitToSet) -> DoorHeights:
    facts = door.facts
    landing = None
    if facts is not None and facts.landing_width is not None and facts.landing_length is not None:
        landing = Landing(
            door_width=door.frame_width,
            width=facts.landing_width,
            length=facts.landing_length,
            fall_in_12=facts.landing_slope_in_per_12 or 0.0,
        )
    return DoorHeights(
        threshold_above_unit_bottom=site.deck.threshold_above_unit_bottom or 0.0,
        egress=bool(facts.required_egress_door) if facts is not None else False,
        swing=swing(door) or "slides",
        floor=site.floor,
        landing=landing,
    )


def _deck(deck: Deck) -> DeckHeights:
    ledger = deck.ledger_depth or 0.0
    return DeckHeights(
        decking_thickness=deck.decking_thickness or 0.0,
        joist_depth=deck.joist_depth or ledger or USUAL_JOIST,
        step_down=deck.step_down,
        ledger_depth=ledger,
        joist_below_ledger_top=deck.joist_below_ledger_top,
        joist_notch=deck.joist_notch,
        lags=deck.fastener != "bolt",
        beam_depth=beam_depth(deck),
        flush_beam=deck.flush_beam,
    )


USUAL_JOIST = 7.25
"""A 2x8, where neither joists nor ledger are stated; common practice, no source [in]."""


def beam_depth(deck: Deck) -> float | None:
    """Return the depth of the beam as stated [in]."""
    return None if deck.beam is None else beam_section(deck.beam).depth


def _levels(result: ChainResult) -> tuple[Height, ...]:
    def order(height: Height) -> tuple[bool, float]:
        return (height.z is None, height.z or 0.0)

    found = [
        Height(
            id=f"height.{slug(level.name)}",
            name=level.name,
            text=level.text,
            z=level.z,
            worst=_finite(level.worst),
            rss=_finite(level.rss),
            sd=None if level.z is None or not isfinite(level.rss) else level.rss / SDS_IN_WORST,
            least=_finite(level.low),
            most=_finite(level.high),
            how=level.how,
        )
        for level in result.levels
    ]
    return tuple(sorted(found, key=order))


def _step(step: StepResult | DemandResult, result: ChainResult) -> HeightStep:
    links: tuple[Step | Demand, ...] = (*result.chain.steps, *result.chain.demands)
    own = next(link for link in links if link.name == step.name)
    return HeightStep(
        id=f"height.step.{slug(step.name)}",
        name=step.name,
        text=step.text,
        lower=_level(own.lower),
        upper=_level(own.upper),
        size=step.size,
        worst=_finite(step.worst),
        rss=_finite(step.rss),
        least=_bound(own.low),
        most=_bound(own.high),
        holds=step.holds,
        source=own.source,
    )


def _level(name: str) -> str:
    return f"height.{slug(name)}" if name != "datum" else ""


def _finite(number: float) -> float | None:
    return number if isfinite(number) else None


def _bound(number: float) -> float | None:
    return number if isfinite(number) and abs(number) < _SETTLED else None
