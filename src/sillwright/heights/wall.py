"""The usual chain of a wall, from the footing to the head, out of what is known of it.

Where a place was measured several times along the wall, its lowest and highest readings enter, for they are
what clearances and pads depend on.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from sillwright.errors import BadInput, Fault
from sillwright.heights.doorway import most_drop
from sillwright.heights.ledger import ledger_parts
from sillwright.heights.model import DATUM, SDS_IN_WORST, Chain, Demand, Level, Step
from sillwright.heights.wall_model import (
    DeckHeights,
    DoorHeights,
    Ground,
    Place,
    UnitHeights,
    WallHeights,
    extremes,
)
from sillwright.lengths import Unit, show
from sillwright.rules import PRACTICE


@dataclass(slots=True)
class _Parts:
    units: Unit
    levels: list[Level] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)
    demands: list[Demand] = field(default_factory=list)

    def say(self, length: float) -> str:
        return show(length, unit=self.units, mark=True)


def wall_chain(wall: WallHeights, *, units: Unit = "in") -> Chain:
    """Return the chain of a wall: footing, post, beam, joist, ledger, decking, threshold, unit, head.

    Args:    wall: what is known of it; units: in which its texts for people are written
    Raises:  BadInput: a size below 0, a deck without a door, a band joist that was not shot
    """
    _refuse(wall)
    parts = _Parts(units)
    _unit(parts, wall.unit)
    if wall.door is not None:
        _door(parts, wall.door)
        if wall.deck is not None:
            _deck(parts, wall.door, wall.deck, nosing=wall.unit.nosing_thickness is not None)
            if wall.deck.ledger_depth:
                levels, steps, demands = ledger_parts(wall.deck, wall.backing, units=parts.units)
                parts.levels += levels
                parts.steps += steps
                parts.demands += demands
            if wall.ground is not None:
                _ground(parts, wall.deck, wall.ground)
    return Chain(levels=tuple(parts.levels), steps=tuple(parts.steps), demands=tuple(parts.demands))


def _unit(parts: _Parts, unit: UnitHeights) -> None:
    line = Level(name="level line", z=unit.line, sd=unit.line_sd if unit.line is not None else 0.0)
    parts.levels += [line, Level(name="unit bottom", text="underside of the unit"), Level(name="unit top")]
    if unit.line is None:
        tolerance = SDS_IN_WORST * unit.line_sd
        parts.steps.append(Step(name="line set out", lower=DATUM, upper="level line", tolerance=tolerance))
    under = "level line"
    for number, layer in enumerate(unit.layers, start=1):
        over = "unit bottom" if number == len(unit.layers) else f"top of {layer.name}"
        if over != "unit bottom":
            parts.levels.append(Level(name=over))
        size, off = layer.thickness, layer.tolerance
        parts.steps.append(Step(name=layer.name, lower=under, upper=over, size=size, tolerance=off))
        under = over
    if not unit.layers:
        parts.steps.append(Step(name="unit on the line", lower=under, upper="unit bottom", size=0.0))
    size, off = unit.frame_height, unit.frame_tolerance
    parts.steps.append(Step(name="unit", lower="unit bottom", upper="unit top", size=size, tolerance=off))
    for end, place in extremes(unit.rough_sill):
        _pad(parts, unit, _measured(parts, f"{end} rough sill", place))
    for end, place in extremes(unit.head)[:1]:
        _head(parts, unit, _measured(parts, f"{end} rough head", place))
    if unit.nosing_thickness is not None:
        parts.levels.append(Level(name="nosing bottom", text="underside of the nosing"))
        nosing = unit.nosing_thickness
        parts.steps.append(Step(name="nosing", lower="nosing bottom", upper="unit bottom", size=nosing))


def _pad(parts: _Parts, unit: UnitHeights, sill: str) -> None:
    pad = Step(
        name=f"pad on {sill}",
        lower=sill,
        upper="level line",
        low=-unit.planing_max,
        high=unit.largest_pad,
        text=f"pad on the {_text(parts, sill)}",
        source="shims on hand, and what may be planed",
    )
    parts.steps.append(pad)


def _head(parts: _Parts, unit: UnitHeights, head: str) -> None:
    clearance = Step(
        name="head clearance",
        lower="unit top",
        upper=head,
        low=unit.least_head_clearance,
        text="clearance between unit and rough head",
        source="maker's least clearance",
    )
    parts.steps.append(clearance)


def _door(parts: _Parts, door: DoorHeights) -> None:
    parts.levels.append(Level(name="threshold", text="top of the threshold"))
    size, off = door.threshold_above_unit_bottom, door.threshold_tolerance
    parts.steps.append(
        Step(
            name="threshold above unit bottom",
            lower="unit bottom",
            upper="threshold",
            size=size,
            tolerance=off,
            text="threshold above the underside of the unit",
        )
    )
    most = most_drop(egress=door.egress, side="inside", swings_over=door.swing == "in")
    for end, place in extremes(door.floor):
        name = _measured(parts, f"{end} finished floor", place)
        parts.demands.append(
            Demand(
                name=f"threshold over {name}",
                lower=name,
                upper="threshold",
                high=most.value,
                text=f"{_text(parts, name)} at most {parts.say(most.value)} below the threshold",
                source=most.source,
            )
        )
        if door.swing == "in":
            parts.demands.append(_swing(parts, door, name))


def _deck(parts: _Parts, door: DoorHeights, deck: DeckHeights, *, nosing: bool) -> None:
    most = most_drop(egress=door.egress, side="outside", swings_over=door.swing == "out")
    names = ("walking surface", "joist top", "joist bottom")
    parts.levels += [Level(name=name, text=text) for name, text in zip(names, _DECK_WORDS, strict=True)]
    parts.steps += [
        Step(
            name="step down",
            lower="walking surface",
            upper="threshold",
            low=0.0,
            high=most.value,
            wish=deck.step_down,
            tolerance=deck.set_out_tolerance,
            text=f"step down from the threshold, at most {parts.say(most.value)}",
            source=most.source,
        ),
        Step(
            name="decking",
            lower="joist top",
            upper="walking surface",
            size=deck.decking_thickness,
            tolerance=deck.lumber_tolerance,
        ),
        Step(
            name="joist",
            lower="joist bottom",
            upper="joist top",
            size=deck.joist_depth,
            tolerance=deck.lumber_tolerance,
        ),
    ]
    if door.swing == "out":
        parts.demands.append(_swing(parts, door, "walking surface"))
    if nosing:
        text = "decking no higher than the underside of the nosing"
        parts.demands.append(
            Demand(
                name="nosing over decking",
                lower="walking surface",
                upper="nosing bottom",
                low=0.0,
                text=text,
                source=PRACTICE,
            )
        )


_DECK_WORDS = ("walking surface of the deck", "top of the joists", "underside of the joists")


def _ground(parts: _Parts, deck: DeckHeights, ground: Ground) -> None:
    grade = ground.grade
    parts.levels += [Level(name="grade", z=grade.z, sd=grade.sd), Level(name="footing top")]
    off = ground.set_out_tolerance
    size = ground.footing_above_grade
    parts.steps.append(
        Step(name="footing above grade", lower="grade", upper="footing top", size=size, tolerance=off)
    )
    if ground.footing_depth is not None:
        parts.levels.append(Level(name="footing bottom"))
        size = ground.footing_depth
        parts.steps.append(
            Step(name="footing depth", lower="footing bottom", upper="grade", size=size, tolerance=off)
        )
    if deck.beam_depth is not None:
        carried = "joist top" if deck.flush_beam else "joist bottom"
        parts.levels.append(Level(name="beam bottom", text="underside of the beam, top of the posts"))
        size, off = deck.beam_depth, deck.lumber_tolerance
        parts.steps += [
            Step(name="beam", lower="beam bottom", upper=carried, size=size, tolerance=off),
            Step(name="post", lower="footing top", upper="beam bottom", low=0.0, text="post cut to length"),
        ]


def _swing(parts: _Parts, door: DoorHeights, name: str) -> Demand:
    clear = parts.say(door.swing_clear)
    return Demand(
        name=f"swing over {name}",
        lower=name,
        upper="threshold",
        low=door.swing_clear,
        text=f"{_text(parts, name)} at least {clear} below the threshold, for the leaf swings over it",
        source=PRACTICE,
    )


def _measured(parts: _Parts, name: str, place: Place) -> str:
    text = f"{name}, at {parts.say(place.x)} along the wall"
    parts.levels.append(Level(name=name, z=place.z, sd=place.sd, text=text))
    return name


def _text(parts: _Parts, name: str) -> str:
    return next(level.text or level.name for level in parts.levels if level.name == name)


def _refuse(wall: WallHeights) -> None:
    faults = [
        Fault(where, f"{size:g} in is below 0.", "Give 0 or more.")
        for where, size in _sizes(wall)
        if size < 0
    ]
    if wall.deck is not None and wall.door is None:
        faults.append(Fault("deck", "there is no door to step down from.", "Name the door's threshold."))
    if wall.backing is not None and not wall.backing.top:
        faults.append(Fault("backing", "its top was not measured.", "Shoot the top of the band joist."))
    if faults:
        raise BadInput(*faults)


def _sizes(wall: WallHeights) -> list[tuple[str, float]]:
    unit, door, deck = wall.unit, wall.door, wall.deck
    found = [("unit: frame height", unit.frame_height), ("unit: largest pad", unit.largest_pad)]
    found += [("unit: planing", unit.planing_max), ("unit: head clearance", unit.least_head_clearance)]
    found += [(f"unit: {layer.name}", layer.thickness) for layer in unit.layers]
    if door is not None:
        found += [("door: threshold", door.threshold_above_unit_bottom), ("door: swing", door.swing_clear)]
    if deck is not None:
        found += [("deck: decking", deck.decking_thickness), ("deck: joists", deck.joist_depth)]
        found += [("deck: ledger", deck.ledger_depth or 0.0), ("deck: notch", deck.joist_notch)]
        found += [("deck: beam", deck.beam_depth or 0.0), ("deck: step down", deck.step_down or 0.0)]
    if wall.backing is not None:
        found.append(("backing: depth", wall.backing.depth))
    return found
