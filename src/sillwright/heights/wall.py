"""The usual chain of a wall, from the footing to the heads, out of what is known of it.

Every opening above the deck has its own part, from its sill to its head; the deck's part is one for all: the
walking surface is where they meet.
"""

from __future__ import annotations

from sillwright.errors import BadInput, Fault
from sillwright.heights.ledger import ledger_chain
from sillwright.heights.model import Chain, Level, Step
from sillwright.heights.unit_chain import SURFACE, unit_chain
from sillwright.heights.wall_model import DeckHeights, Ground, UnitHeights, WallHeights
from sillwright.lengths import Unit
from sillwright.rules import RuleBook


def wall_chain(wall: WallHeights, *, units: Unit = "in", book: RuleBook | None = None) -> Chain:
    """Return the chain of a wall: footing, post, beam, joist, ledger, decking, threshold, unit, head.

    Args:    wall: what is known of it; units: in which its texts for people are written; book: whose limits
             count, the 2018 edition's without one
    Raises:  BadInput: a size below 0, a deck without a door, a band joist that was not shot
    """
    _refuse(wall)
    deck = wall.deck
    doors = sum(unit.door is not None for unit in wall.units)
    parts = [unit_chain(unit, deck, doors=doors, units=units, book=book) for unit in wall.units]
    if deck is not None:
        parts.append(_deck(deck))
        if deck.ledger_depth:
            parts.append(ledger_chain(deck, wall.backing, units=units, book=book))
        if wall.ground is not None:
            parts.append(_ground(deck, wall.ground))
    return Chain(
        levels=tuple(level for part in parts for level in part.levels),
        steps=tuple(step for part in parts for step in part.steps),
        demands=tuple(demand for part in parts for demand in part.demands),
    )


def _deck(deck: DeckHeights) -> Chain:
    off = deck.lumber_tolerance
    size, depth = deck.decking_thickness, deck.joist_depth
    return Chain(
        levels=(
            Level(name=SURFACE, text="walking surface of the deck"),
            Level(name="joist top", text="top of the joists"),
            Level(name="joist bottom", text="underside of the joists"),
        ),
        steps=(
            Step(name="decking", lower="joist top", upper=SURFACE, size=size, tolerance=off),
            Step(name="joist", lower="joist bottom", upper="joist top", size=depth, tolerance=off),
        ),
    )


def _ground(deck: DeckHeights, ground: Ground) -> Chain:
    grade, off = ground.grade, ground.set_out_tolerance
    above, deep = ground.footing_above_grade, ground.footing_depth
    levels = [Level(name="grade", z=grade.z, sd=grade.sd), Level(name="footing top")]
    steps = [Step(name="footing above grade", lower="grade", upper="footing top", size=above, tolerance=off)]
    if deep is not None:
        levels.append(Level(name="footing bottom"))
        steps.append(
            Step(name="footing depth", lower="footing bottom", upper="grade", size=deep, tolerance=off)
        )
    if deck.beam_depth is not None:
        carried = "joist top" if deck.flush_beam else "joist bottom"
        size, off = deck.beam_depth, deck.lumber_tolerance
        levels.append(Level(name="beam bottom", text="underside of the beam, top of the posts"))
        steps += [
            Step(name="beam", lower="beam bottom", upper=carried, size=size, tolerance=off),
            Step(name="post", lower="footing top", upper="beam bottom", low=0.0, text="post cut to length"),
        ]
    return Chain(levels=tuple(levels), steps=tuple(steps))


def _refuse(wall: WallHeights) -> None:
    faults = [
        Fault(where, f"{size:g} in is below 0.", "Give 0 or more.")
        for where, size in _sizes(wall)
        if size < 0
    ]
    if wall.deck is not None and not any(unit.door for unit in wall.units):
        faults.append(Fault("deck", "there is no door to step down from.", "Name the door's threshold."))
    if wall.backing is not None and not wall.backing.top:
        faults.append(Fault("backing", "its top was not measured.", "Shoot the top of the band joist."))
    if faults:
        raise BadInput(*faults)


def _sizes(wall: WallHeights) -> list[tuple[str, float]]:
    deck, found = wall.deck, [size for unit in wall.units for size in _unit_sizes(unit)]
    if deck is not None:
        found += [("deck: decking", deck.decking_thickness), ("deck: joists", deck.joist_depth)]
        found += [("deck: ledger", deck.ledger_depth or 0.0), ("deck: notch", deck.joist_notch)]
        found += [("deck: beam", deck.beam_depth or 0.0), ("deck: step down", deck.step_down or 0.0)]
    if wall.backing is not None:
        found.append(("backing: depth", wall.backing.depth))
    return found


def _unit_sizes(unit: UnitHeights) -> list[tuple[str, float]]:
    at, door = f"unit {unit.opening}", unit.door
    found = [(f"{at}: frame height", unit.frame_height), (f"{at}: largest pad", unit.largest_pad)]
    found += [(f"{at}: planing", unit.planing_max), (f"{at}: head clearance", unit.least_head_clearance)]
    found += [(f"{at}: {layer.name}", layer.thickness) for layer in unit.layers]
    if door is not None:
        found += [(f"{at}: threshold", door.threshold_above_unit_bottom), (f"{at}: swing", door.swing_clear)]
    return found
