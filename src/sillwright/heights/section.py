"""The section through sill, ledger and deck, and the story pole, as named shapes and marks: numbers only.

y runs inward from the face of the sheathing (negative: outside), z up from the datum, both in inches. What
has no height yet is left out, and named.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sillwright.heights.model import ChainResult, How, at
from sillwright.heights.wall_model import Layer, UnitHeights, WallHeights, extremes
from sillwright.quantity import Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class Depths:
    """Sizes square to the wall that the section is drawn with; they do not enter the heights."""

    sheathing: Inches = 0.5
    wall: Inches = 5.5
    """Framing, from the inside of the sheathing."""
    jamb: Inches = 4.5625
    lumber: Inches = 1.5
    reach: Inches = 36.0
    """How far out the deck is drawn."""
    post: Inches = 5.5
    footing: Inches = 12.0
    floor: Inches = 18.0
    """How far in the floor is drawn."""


USUAL = Depths()
"""A 2x6 wall with half-inch sheathing; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """An outline of the section: corners (y, z) in order, not repeated at the end."""

    name: str
    """Of the step that it shows, or of the level where it is flat."""
    opening: str
    """Whose it is; empty: the deck's."""
    kind: str
    points: tuple[tuple[Inches, Inches], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PoleMark:
    """One mark of the story pole."""

    name: str
    opening: str
    """Whose height it is; empty: the deck's."""
    text: str
    z: Inches
    worst: Inches
    rss: Inches
    how: How


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Everything there is to draw of all openings, lowest first, and the levels that cannot be drawn."""

    shapes: tuple[Shape, ...]
    marks: tuple[PoleMark, ...]
    open: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Box:
    """A shape to be: between two levels, from y so far inward."""

    name: str
    lower: str
    upper: str
    y: float
    width: float
    opening: str = ""
    kind: str = ""
    """What it is, whichever place it stands at; its name where empty."""
    fall: tuple[float, float] = (0.0, 0.0)
    """How much lower its underside and its top lie at its outer end [in]."""


def section(wall: WallHeights, result: ChainResult, *, depths: Depths = USUAL) -> Section:
    """Return shapes and marks of a wall's sections, those of each opening under its name.

    Args:    wall: what the chain was made from; result: its solution; depths: square to the wall [in]
    """
    boxes = [box for unit in wall.units for box in _unit(unit, result, depths)] + _deck(wall, result, depths)
    z = {level.name: level.z for level in result.levels}
    shapes = [shape for box in boxes if (shape := _shape(z, box)) is not None]
    shapes.sort(key=lambda shape: min(z for _, z in shape.points))
    return Section(shapes=tuple(shapes), marks=pole(result), open=_open(result))


def pole(result: ChainResult) -> tuple[PoleMark, ...]:
    """Return the marks of the story pole, lowest first."""
    marks = [
        PoleMark(
            name=level.name,
            opening=level.opening,
            text=level.text,
            z=level.z,
            worst=level.worst,
            rss=level.rss,
            how=level.how,
        )
        for level in result.levels
        if level.z is not None
    ]
    return tuple(sorted(marks, key=lambda mark: mark.z))


def _open(result: ChainResult) -> tuple[str, ...]:
    return tuple(level.name for level in result.levels if level.z is None)


def _shape(z: Mapping[str, float | None], box: _Box) -> Shape | None:
    bottom, top = z.get(box.lower), z.get(box.upper)
    if bottom is None or top is None:
        return None
    left, right = box.y, box.y + box.width
    points = ((left, bottom - box.fall[0]), (right, bottom), (right, top), (left, top - box.fall[1]))
    return Shape(name=box.name, opening=box.opening, kind=box.kind or box.name, points=points)


def _unit(unit: UnitHeights, result: ChainResult, depths: Depths) -> list[_Box]:
    """Return what belongs to one opening: every step of its own, its nosing outside, its floor inside."""
    inside = depths.sheathing + depths.wall
    wide = {"unit": depths.jamb, "head clearance": depths.jamb}
    falls = _falls(unit.layers)
    found = []
    for step in result.steps:
        if step.opening != unit.opening or step.plain in _NOT_DRAWN:
            continue
        kind = "pad" if step.plain.startswith("pad on ") else step.plain
        left, width = (-depths.lumber, depths.lumber) if kind == "nosing" else (0.0, wide.get(kind, inside))
        fall = falls.get(kind, (0.0, 0.0))
        found.append(_Box(step.name, step.lower, step.upper, left, width, unit.opening, kind, fall))
    for end, _ in extremes(unit.door.floor if unit.door is not None else ()):
        name = at(f"{end} finished floor", unit.opening)
        found.append(_Box(name, name, name, inside, depths.floor, unit.opening, "finished floor"))
    return found


def _falls(layers: tuple[Layer, ...]) -> dict[str, tuple[float, float]]:
    """Return how much lower each layer's underside and top lie outside: what is on a slope follows it."""
    found, below = {}, 0.0
    for layer in layers:
        above = below + (layer.thickness - layer.thin if layer.thin is not None else 0.0)
        found[layer.name] = (below, above)
        below = above
    return found


_NOT_DRAWN = ("line set out", "threshold above unit bottom", "step down")


def _deck(wall: WallHeights, result: ChainResult, depths: Depths) -> list[_Box]:
    if wall.deck is None:
        return []
    out, thick = -depths.reach, depths.lumber
    start = -thick if wall.deck.ledger_depth else 0.0
    post, footing = out + depths.post, depths.footing
    through = 2 * thick + depths.sheathing
    top = "highest band joist top" if result.has("highest band joist top") else "lowest band joist top"
    return [
        _Box("decking", "joist top", "walking surface", out, depths.reach),
        _Box("joist", "joist bottom", "joist top", out, depths.reach + start),
        _Box("ledger", "ledger bottom", "ledger top", -thick, thick),
        _Box("beam", "beam bottom", "joist top" if wall.deck.flush_beam else "joist bottom", post, 2 * thick),
        _Box("post", "footing top", "beam bottom", post, depths.post),
        _Box(
            "footing depth",
            "footing bottom",
            "footing top",
            post + (depths.post - footing) / 2,
            footing,
            kind="footing",
        ),
        _Box("grade", "grade", "grade", out, depths.reach),
        _Box("upper row", "upper row", "upper row", -thick, through),
        _Box("lower row", "lower row", "lower row", -thick, through),
        _Box("band joist", "band joist bottom", top, depths.sheathing, thick),
    ]
