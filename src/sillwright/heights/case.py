"""What the checks of a wall's heights look at."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.heights.limits import limit, source
from sillwright.heights.model import ChainResult
from sillwright.heights.solve import difference
from sillwright.heights.wall_model import WallHeights
from sillwright.lengths import Unit, show
from sillwright.rules import RuleBook


@dataclass(frozen=True, slots=True)
class Case:
    """A wall, its chain as solved, and by what it is judged and told."""

    wall: WallHeights
    result: ChainResult
    units: Unit
    book: RuleBook | None

    def limit(self, name: str) -> float:
        """Return the value of a limit."""
        return limit(name, self.book)

    def bound(self, name: str) -> str:
        """Return a limit in words."""
        return self.say(self.limit(name))

    def source(self, name: str) -> str:
        """Return where a limit comes from."""
        return source(name, self.book)

    def say(self, length: float) -> str:
        """Return a length in words [in]."""
        return show(length, unit=self.units, mark=True)

    def fine(self, length: float) -> str:
        """Return a length in words, to a tolerance's digits [in]."""
        return show(length, unit=self.units, graduation=1 / 64 if self.units == "in" else 0.1, mark=True)

    def drop(self, lower: str, upper: str) -> float | None:
        """Return upper less lower level [in]; None: one of them is open, or not there."""
        if not (self.result.has(lower) and self.result.has(upper)):
            return None
        return difference(self.result, lower=lower, upper=upper).size
