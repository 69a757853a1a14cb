"""The section through sill, ledger and deck, and the story pole, as named shapes and marks: numbers only.

y runs inward from the face of the sheathing (negative: outside), z up from the datum, both in inches. What
has no height yet is left out, and named.
"""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.heights.model import ChainResult, How
from sillwright.heights.wall_model import WallHeights, extremes
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
    """A named outline of the section: corners (y, z) in order, not repeated at the end."""

    name: str
    kind: str
    points: tuple[tuple[Inches, Inches], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PoleMark:
    """One mark of the story pole."""

    name: str
    text: str
    z: Inches
    worst: Inches
    rss: Inches
    how: How


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Everything there is to draw, lowest first, and the levels that cannot be drawn."""

    shapes: tuple[Shape, ...]
    marks: tuple[PoleMark, ...]
    open: tuple[str, ...]


_Box = tuple[str, str, str, float, float]


def section(wall: WallHeights, result: ChainResult, *, depths: Depths = USUAL) -> Section:
    """Return shapes and marks of a wall's section.

    Args:    wall: what the chain was made from; result: its solution; depths: square to the wall [in]
    """
    boxes = [*_unit(result, depths), *_floor(wall, depths), *_deck(wall, result, depths)]
    shapes = [shape for box in boxes if (shape := _shape(result, *box)) is not None]
    shapes.sort(key=lambda shape: min(z for _, z in shape.points))
    return Section(shapes=tuple(shapes), marks=pole(result), open=_open(result))


def pole(result: ChainResult) -> tuple[PoleMark, ...]:
    """Return the marks of the story pole, lowest first."""
    marks = [
        PoleMark(name=level.name, text=level.text, z=level.z, worst=level.worst, rss=level.rss, how=level.how)
        for level in result.levels
        if level.z is not None
    ]
    return tuple(sorted(marks, key=lambda mark: mark.z))


def _open(result: ChainResult) -> tuple[str, ...]:
    return tuple(level.name for level in result.levels if level.z is None)


def _shape(result: ChainResult, name: str, lower: str, upper: str, y: float, width: float) -> Shape | None:
    if not (result.has(lower) and result.has(upper)):
        return None
    bottom, top = result.z(lower), result.z(upper)
    if bottom is None or top is None:
        return None
    points = ((y, bottom), (y + width, bottom), (y + width, top), (y, top))
    return Shape(name=name, kind=_kind(name), points=points)


def _kind(name: str) -> str:
    """Return what a shape is, whichever place it stands at."""
    if name.startswith("pad on "):
        return "pad"
    return name.removeprefix("lowest ").removeprefix("highest ")


def _unit(result: ChainResult, depths: Depths) -> list[_Box]:
    found: list[_Box] = [("unit", "unit bottom", "unit top", 0.0, depths.jamb)]
    inside = depths.sheathing + depths.wall
    for step in result.steps:
        if step.name.startswith("pad on "):
            found.append((step.name, step.lower, step.upper, 0.0, inside))
        if step.name == "head clearance":
            found.append((step.name, step.lower, step.upper, 0.0, depths.jamb))
    layers = _between(result, "level line", "unit bottom")
    found += [(name, lower, upper, 0.0, inside) for name, lower, upper in layers]
    found.append(("nosing", "nosing bottom", "unit bottom", -depths.lumber, depths.lumber))
    return found


def _between(result: ChainResult, lower: str, upper: str) -> list[tuple[str, str, str]]:
    """Return the fixed steps from one level up to another, one on the other."""
    above = {step.lower: step for step in result.chain.steps if step.size is not None}
    found = []
    while lower != upper and lower in above:
        step = above[lower]
        found.append((step.name, step.lower, step.upper))
        lower = step.upper
    return found


def _floor(wall: WallHeights, depths: Depths) -> list[_Box]:
    places = wall.door.floor if wall.door is not None else ()
    names = [f"{end} finished floor" for end, _ in extremes(places)]
    return [(name, name, name, depths.sheathing + depths.wall, depths.floor) for name in names]


def _deck(wall: WallHeights, result: ChainResult, depths: Depths) -> list[_Box]:
    if wall.deck is None:
        return []
    out, thick = -depths.reach, depths.lumber
    start = -thick if wall.deck.ledger_depth else 0.0
    post = out + depths.post
    found: list[_Box] = [
        ("decking", "joist top", "walking surface", out, depths.reach),
        ("joist", "joist bottom", "joist top", out, depths.reach + start),
        ("ledger", "ledger bottom", "ledger top", -thick, thick),
        ("beam", "beam bottom", "joist top" if wall.deck.flush_beam else "joist bottom", post, 2 * thick),
        ("post", "footing top", "beam bottom", post, depths.post),
        (
            "footing",
            "footing bottom",
            "footing top",
            post + (depths.post - depths.footing) / 2,
            depths.footing,
        ),
        ("grade", "grade", "grade", out, depths.reach),
        ("upper row", "upper row", "upper row", -thick, 2 * thick + depths.sheathing),
        ("lower row", "lower row", "lower row", -thick, 2 * thick + depths.sheathing),
    ]
    top = "highest band joist top" if result.has("highest band joist top") else "lowest band joist top"
    found.append(("band joist", "band joist bottom", top, depths.sheathing, thick))
    return found
