"""Which openings stand above a deck, and what each of them lacks for its heights."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sillwright.heights import Place
from sillwright.inspection.facts import Site
from sillwright.inspection.wall_ledger import ends
from sillwright.job import UnitToSet
from sillwright.setting.bearing import walked_over
from sillwright.setting.model import Line, UnitPosition
from sillwright.survey.model import OpeningShape


@dataclass(frozen=True, slots=True)
class Above:
    """A unit above the deck."""

    unit: UnitToSet
    shape: OpeningShape
    line: Line | None
    position: UnitPosition | None
    door: bool
    """It is walked over."""
    threshold: float | None
    """Top of the threshold above the underside of the unit [in]; None: not stated, or no door."""

    @property
    def opening(self) -> str:
        """Return the name of its opening."""
        return self.unit.opening

    @property
    def lacks(self) -> tuple[str, ...]:
        """Return what the job lacks for its heights, in its own words."""
        said = self.threshold is not None or not self.door
        lacks = () if said else ("deck.threshold_above_unit_bottom",)
        return lacks if self.line is not None else (*lacks, f"a level line for {self.opening}")

    def distance(self, x: float) -> float:
        """Return how far beside the opening a place is [in]; 0 where its own place is not known."""
        return max(self.shape.left - x, x - self.shape.right, 0.0) if self.shape.position_known else 0.0


def above_deck(site: Site) -> tuple[Above, ...]:
    """Return the units above the deck, in the job's order.

    As named; else every door not known to stand beside it, and what else reaches from no higher than a
    threshold to above all of them, for its sill meets the deck.
    """
    every = [_above(site, unit) for unit in site.job.unit]
    named = site.deck.openings
    if named is not None:
        return tuple(each for each in every if each.opening in named)
    near = [each for each in every if not _beside(site, each.shape)]
    tops = [
        each.line.unit_bottom + each.threshold
        for each in near
        if each.door and each.line is not None and each.threshold is not None
    ]
    return tuple(each for each in near if each.door or _meets(each, tops))


def floor_at(places: Iterable[Place], door: Above, doors: Iterable[Above]) -> tuple[Place, ...]:
    """Return the places of the floor that no other door is nearer to."""
    others = [each for each in doors if each.opening != door.opening]
    return tuple(
        place
        for place in places
        if all(door.distance(place.x) <= other.distance(place.x) for other in others)
    )


def _above(site: Site, unit: UnitToSet) -> Above:
    name, door = unit.opening, walked_over(unit)
    threshold = unit.threshold_above_unit_bottom
    if threshold is None:
        threshold = site.deck.threshold_above_unit_bottom
    return Above(
        unit,
        site.shape(name),
        site.line(name),
        site.position(name),
        door,
        threshold if door else None,
    )


def _beside(site: Site, shape: OpeningShape) -> bool:
    extent = ends(site)
    if extent is None or not shape.position_known:
        return False
    return shape.right <= extent[0] or shape.left >= extent[1]


def _meets(unit: Above, thresholds: list[float]) -> bool:
    if unit.position is None or not thresholds:
        return False
    return unit.position.bottom <= max(thresholds) < unit.position.top
