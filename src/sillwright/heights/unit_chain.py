"""The part of a wall's chain that belongs to one opening: sill, pads, unit, threshold, head; its step down.

Where a place was measured several times along the wall, its lowest and highest readings enter, for they are
what clearances and pads depend on.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TypeVar

from sillwright.heights.doorway import most_drop
from sillwright.heights.model import DATUM, SDS_IN_WORST, Chain, Demand, Level, Step, at
from sillwright.heights.wall_model import DeckHeights, DoorHeights, Place, UnitHeights, extremes
from sillwright.lengths import Unit, show
from sillwright.rules import PRACTICE, RuleBook

SURFACE = "walking surface"
"""The level of the deck that every opening above it has in common."""


@dataclass(slots=True)
class _Parts:
    units: Unit
    book: RuleBook | None
    levels: list[Level] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)
    demands: list[Demand] = field(default_factory=list)

    def say(self, length: float) -> str:
        return show(length, unit=self.units, mark=True)


def unit_chain(
    unit: UnitHeights, deck: DeckHeights | None, *, doors: int, units: Unit, book: RuleBook | None
) -> Chain:
    """Return the chain of one opening, from the datum to its head and down to the walking surface.

    Args:    deck: None: none below; doors: how many share it; units: of the texts; book: whose limits count
    """
    parts = _Parts(units, book)
    _unit(parts, unit)
    if unit.door is not None:
        _door(parts, unit.door)
    if deck is not None:
        _above_deck(parts, unit, deck, doors)
    own = frozenset(level.name for level in parts.levels)
    return Chain(
        levels=tuple(_of(unit.opening, level) for level in parts.levels),
        steps=tuple(_between(unit.opening, step, own) for step in parts.steps),
        demands=tuple(_between(unit.opening, demand, own) for demand in parts.demands),
    )


_Link = TypeVar("_Link", Step, Demand)


def _of(opening: str, level: Level) -> Level:
    """Return a level under the name of its opening."""
    return replace(level, name=at(level.name, opening), opening=opening, text=f"{opening}: {level.words}")


def _between(opening: str, link: _Link, own: frozenset[str]) -> _Link:
    """Return a link under the name of its opening, between levels under theirs."""
    lower, upper = (at(end, opening) if end in own else end for end in (link.lower, link.upper))
    name, text = at(link.name, opening), f"{opening}: {link.words}"
    return replace(link, name=name, opening=opening, text=text, lower=lower, upper=upper)


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
    most = most_drop(egress=door.egress, side="inside", swings_over=door.swing == "in", book=parts.book)
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


def _above_deck(parts: _Parts, unit: UnitHeights, deck: DeckHeights, doors: int) -> None:
    door = unit.door
    if door is None:
        _dry(parts, "unit over decking", "unit bottom", "decking no higher than the underside of the unit")
    else:
        parts.steps.append(_step_down(parts, door, deck, doors))
        if door.swing == "out":
            parts.demands.append(_swing(parts, door, SURFACE))
    if unit.nosing_thickness is not None:
        text = "decking no higher than the underside of the nosing"
        _dry(parts, "nosing over decking", "nosing bottom", text)


def _step_down(parts: _Parts, door: DoorHeights, deck: DeckHeights, doors: int) -> Step:
    """Return the step down; of several doors the lowest gets what is wished: water comes before comfort."""
    over = door.swing == "out"
    most = most_drop(egress=door.egress, side="outside", swings_over=over, book=parts.book)
    return Step(
        name="step down",
        lower=SURFACE,
        upper="threshold",
        low=0.0,
        high=most.value,
        wish=deck.step_down,
        shortage=float(doors),
        tolerance=deck.set_out_tolerance,
        text=f"step down of 0 to {parts.say(most.value)} from the threshold",
        source=most.source,
    )


def _dry(parts: _Parts, name: str, upper: str, text: str) -> None:
    parts.demands.append(Demand(name=name, lower=SURFACE, upper=upper, low=0.0, text=text, source=PRACTICE))


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
    return next((level.words for level in parts.levels if level.name == name), name)
