"""From a job and its setting plan to the heights at every opening above the deck."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import isfinite

from sillwright.errors import BadInput, Fault
from sillwright.findings import Finding
from sillwright.heights import (
    Backing,
    ChainResult,
    DeckHeights,
    Demand,
    DemandResult,
    DoorHeights,
    Ground,
    Layer,
    Place,
    Step,
    StepResult,
    UnitHeights,
    WallHeights,
    at,
    findings,
    section,
    solve,
    wall_chain,
)
from sillwright.heights.model import SDS_IN_WORST
from sillwright.inspection.above_deck import Above, floor_at
from sillwright.inspection.facts import Site, slug, swing
from sillwright.inspection.model import (
    Height,
    HeightConflict,
    Heights,
    HeightStep,
    OpeningAbove,
    SectionShape,
)
from sillwright.job import Deck, Kit, UnitToSet
from sillwright.lengths import show
from sillwright.rules import RuleBook
from sillwright.setting.model import Line, UnitPosition
from sillwright.structure import section as beam_section
from sillwright.survey.model import Station

_SETTLED = 100.0
"""Pads, planing and room at the head are settled by the setting plan: here they bound nothing [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtTheDeck:
    """Heights for the plan, with what they were made from."""

    result: ChainResult
    heights: Heights
    findings: tuple[Finding, ...]


def missing(site: Site, above: tuple[Above, ...]) -> tuple[str, ...]:
    """Return what the job lacks for any heights at all, in its own words; empty: nothing.

    Args:    above: the units above the deck
    """
    doors = [each for each in above if each.door]
    if not doors:
        return ("a door: name its opening in deck.openings",)
    keys = ("decking_thickness", "ledger_depth")
    lacks = tuple(f"deck.{key}" for key in keys if getattr(site.deck, key) is None)
    if all(door.lacks for door in doors):
        lacks = (*dict.fromkeys(lack for door in doors for lack in door.lacks), *lacks)
    return lacks


def at_the_deck(site: Site, above: tuple[Above, ...], book: RuleBook) -> AtTheDeck:
    """Return the heights at each opening above a deck, judged by a rule book.

    Args:    above: the units above it, none of which lacks anything, a door among them
    Raises:  BadInput: the ledger's stated top is above a sill
    """
    _refuse_high_ledger(site, above)
    wall, assumed = _wall(site, above)
    units = site.job.units
    result = solve(wall_chain(wall, units=units, book=book))
    ids = _ids(result)
    heights = Heights(
        openings=tuple(_opening(each, result) for each in above),
        levels=_levels(result, ids),
        steps=_links(result.chain.steps, result.steps, ids),
        demands=_links(result.chain.demands, result.demands, ids),
        conflicts=tuple(
            HeightConflict(openings=each.openings, texts=each.texts, short=each.short, sources=each.sources)
            for each in result.conflicts
        ),
        assumed=assumed,
        shapes=tuple(
            SectionShape(ref=ids[each.name], opening=each.opening, kind=each.kind, points=each.points)
            for each in section(wall, result).shapes
        ),
    )
    left_out = (*(_OF_FLUSH if _flush(result, wall) else ()), *(_OF_BACKING if site.deck.backing else ()))
    told = (each for each in findings(wall, result, units=units, book=book) if each.id not in left_out)
    found = tuple(_named(_with_depth(each, site), ids) for each in told)
    return AtTheDeck(result=result, heights=heights, findings=found)


def _ids(result: ChainResult) -> Mapping[str, str]:
    """Return the id in the plan of each level, step and demand, by its name in the chain."""
    kinds = (("height", result.levels), ("height.step", result.steps), ("height.step", result.demands))
    return {
        part.name: ".".join(each for each in (kind, slug(part.plain), part.opening) if each)
        for kind, parts in kinds
        for part in parts
    }


def _opening(above: Above, result: ChainResult) -> OpeningAbove:
    down = at("step down", above.opening)
    size = next((step.size for step in result.steps if step.name == down), None)
    return OpeningAbove(opening=above.opening, door=above.door, step_down=size)


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


def _named(finding: Finding, ids: Mapping[str, str]) -> Finding:
    """Return a finding whose id and place are ids of the plan."""
    return replace(finding, id=f"finding.{slug(finding.id)}", place=ids.get(finding.place, ""))


def _refuse_high_ledger(site: Site, above: tuple[Above, ...]) -> None:
    top = site.deck.ledger_top
    lines = [(each.line.z, each.opening) for each in above if each.line is not None]
    if top is None or not site.deck.ledger_depth or not lines or top <= min(lines)[0]:
        return
    line, opening = min(lines)
    say = [show(length, unit=site.job.units, mark=True) for length in (top, line)]
    what = f"the ledger's top at {say[0]} is above the sill of {opening}: its level line is at {say[1]}."
    raise BadInput(Fault("deck.ledger_top", what, "A ledger stands below the door: give a lower height."))


def _wall(site: Site, above: tuple[Above, ...]) -> tuple[WallHeights, tuple[str, ...]]:
    deck, grade = site.deck, site.grade
    assumed = [text for each in above if each.door for text in _assumed_of(each.unit)]
    if deck.joist_depth is None:
        taken = "that of the ledger" if deck.ledger_depth else "that of a 2x8"
        assumed.append(f"depth of the joists: taken as {taken}")
    doors = [each for each in above if each.door]
    ground = None
    if grade is not None:
        over, deep = deck.footing_above_grade, deck.footing_depth
        ground = Ground(grade=grade, footing_above_grade=over, footing_depth=deep)
    backing = None
    if deck.ledger_depth and site.band and deck.band_joist_depth is not None:
        backing = Backing(top=site.band, depth=deck.band_joist_depth)
    units = tuple(
        _unit(site, each, each.line, each.position, _door(site, each, doors) if each.door else None)
        for each in above
        if each.line is not None and each.position is not None
    )
    return WallHeights(units=units, deck=_deck(deck), backing=backing, ground=ground), tuple(assumed)


def _assumed_of(door: UnitToSet) -> list[str]:
    name, found = door.opening, []
    if swing(door) is None:
        found.append(f"which way the door of {name} swings: taken as if over neither side")
    if door.facts is None or door.facts.required_egress_door is None:
        found.append(f"whether the door of {name} is the required egress door: taken as another door")
    return found


def _unit(
    site: Site, above: Above, line: Line, position: UnitPosition, door: DoorHeights | None
) -> UnitHeights:
    sill, head = _shot(above.shape.sill_outer), _shot(above.shape.head_outer)
    return UnitHeights(
        opening=above.opening,
        frame_height=position.height,
        line=line.z,
        layers=_layers(site.job.kit, line.unit_bottom - line.z),
        rough_sill=sill,
        head=head if head and min(place.z for place in head) > position.top else (),
        largest_pad=_SETTLED,
        planing_max=_SETTLED,
        least_head_clearance=0.0,
        nosing_thickness=above.unit.nosing,
        door=door,
    )


def _layers(kit: Kit, over: float) -> tuple[Layer, ...]:
    """Return what lies between the line and a unit so far over it: each stated layer, then the rest."""
    strip, found = kit.sloped_strip, []
    if strip is not None and strip.thick <= over:
        found.append(Layer(name="sloped strip", thickness=strip.thick, thin=strip.thin))
    found += [Layer(name=each.what, thickness=each.thickness) for each in kit.layer]
    rest = over - sum(layer.thickness for layer in found)
    if rest > _THIN:
        name = "rest on the pads" if kit.layer else _REST[bool(found)]
        found.append(Layer(name=name, thickness=rest))
    return tuple(found)


_THIN = 1e-6
"""No layer is so thin: what is left of a sum [in]."""
_REST = {True: "membranes and bedding", False: "all that lies on the pads"}


def _shot(stations: tuple[Station, ...]) -> tuple[Place, ...]:
    return tuple(Place(x=each.at, z=each.value, sd=each.sd) for each in stations if each.measured)


def _door(site: Site, above: Above, doors: list[Above]) -> DoorHeights:
    unit, facts = above.unit, above.unit.facts
    return DoorHeights(
        threshold_above_unit_bottom=above.threshold or 0.0,
        egress=bool(facts.required_egress_door) if facts is not None else False,
        swing=swing(unit) or "slides",
        floor=floor_at(site.floor, above, doors),
    )


def _deck(deck: Deck) -> DeckHeights:
    ledger = deck.ledger_depth or 0.0
    return DeckHeights(
        decking_thickness=deck.decking_thickness or 0.0,
        joist_depth=deck.joist_depth or ledger or USUAL_JOIST,
        step_down=deck.step_down,
        ledger_depth=ledger,
        ledger_top=deck.ledger_top,
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


def _levels(result: ChainResult, ids: Mapping[str, str]) -> tuple[Height, ...]:
    def order(height: Height) -> tuple[bool, float]:
        return (height.z is None, round(height.z or 0.0, 6))  # equal but for rounding: as in the chain

    found = [
        Height(
            id=ids[level.name],
            name=level.plain,
            opening=level.opening,
            text=level.words,
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


def _links(
    asked: Sequence[Step | Demand], found: Sequence[StepResult | DemandResult], ids: Mapping[str, str]
) -> tuple[HeightStep, ...]:
    return tuple(
        HeightStep(
            id=ids[own.name],
            name=own.plain,
            opening=own.opening,
            text=made.words,
            lower=ids.get(own.lower, ""),
            upper=ids.get(own.upper, ""),
            size=made.size,
            worst=_finite(made.worst),
            rss=_finite(made.rss),
            least=_bound(own.low),
            most=_bound(own.high),
            holds=made.holds,
            source=own.source,
        )
        for own, made in zip(asked, found, strict=True)
    )


def _finite(number: float) -> float | None:
    return number if isfinite(number) else None


def _bound(number: float) -> float | None:
    return number if isfinite(number) and abs(number) < _SETTLED else None
