"""A vertical chain and what solving it tells: frozen; lengths in inches, z up from the datum."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import Literal

from sillwright.quantity import Inches

DATUM = "datum"
"""The level z = 0: the job's datum, or any level one cares to count from."""

SDS_IN_WORST = 3.0
"""A measured height is taken to lie within three standard deviations of its value, at worst."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A named height; known where `z` is given."""

    name: str
    z: Inches | None = None
    sd: Inches = 0.0
    text: str = ""
    """In words, for people; the name where empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """Upper level less lower level: fixed where `size` is given, else found between `low` and `high`."""

    name: str
    lower: str
    upper: str
    size: Inches | None = None
    tolerance: Inches = 0.0
    """Most the step can be off as made, either way."""
    low: Inches = -inf
    high: Inches = inf
    wish: Inches | None = None
    """Size to come as near to as the rest allows, where the step is to be found."""
    weight: float = 1.0
    """What an inch off the wish counts against an inch off another."""
    text: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What must hold between two levels that no piece of stock joins: low <= upper - lower <= high."""

    name: str
    lower: str
    upper: str
    low: Inches = -inf
    high: Inches = inf
    text: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """Levels, the steps that join them and the demands on them."""

    levels: tuple[Level, ...]
    steps: tuple[Step, ...] = ()
    demands: tuple[Demand, ...] = ()


How = Literal["known", "tied", "chosen", "open"]
"""known: given; tied: everything else leaves one value; chosen: some room is left, and the wishes decided;
open: nothing says."""


Holds = Literal["at worst", "statistically", "as drawn", "not", "open"]
"""Whether a demand holds with every tolerance against it, with the root of the sum of squares against it,
only at nominal sizes, or not at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelResult:
    """A level as solved."""

    name: str
    text: str
    z: Inches | None
    low: Inches
    """Lowest it may be; -inf: no bound."""
    high: Inches
    worst: Inches
    """Most it can be off if every step and reading is off the same way."""
    rss: Inches
    """Root of the sum of squares of the same."""
    how: How


@dataclass(frozen=True, slots=True, kw_only=True)
class StepResult:
    """A step as solved."""

    name: str
    text: str
    lower: str
    upper: str
    size: Inches | None
    low: Inches
    """Least it may be, given all the rest."""
    high: Inches
    margin: Inches
    """Room to the nearer bound of its own at nominal sizes; negative: missed by as much."""
    worst: Inches
    rss: Inches
    how: How
    holds: Holds
    """Whether its own bounds hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DemandResult:
    """A demand as met."""

    name: str
    text: str
    source: str
    size: Inches | None
    low: Inches
    high: Inches
    margin: Inches
    """Room to the nearer limit at nominal sizes; negative: missed by as much."""
    worst: Inches
    rss: Inches
    holds: Holds


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """The least change to one demand, step or level that ends a conflict by itself."""

    name: str
    text: str
    kind: Literal["level", "size", "limit"]
    """A known level to move, a piece of another size, or a limit to widen."""
    by: Inches
    larger: bool
    """Higher, larger, or allowed to be larger; else lower, smaller, or allowed to be smaller."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """A smallest set of demands, steps and known levels that cannot hold together."""

    names: tuple[str, ...]
    texts: tuple[str, ...]
    sources: tuple[str, ...]
    """Where its limits come from; empty: sizes and readings only."""
    short: Inches
    """What is missing round the loop that they form."""
    cures: tuple[Cure, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Unmet:
    """A wish that the demands do not let come true, and what stands in its way."""

    step: str
    text: str
    wish: Inches
    size: Inches
    against: Conflict
    """The wish with what it clashes with; its cures tell what would let it come true."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What one step or reading adds to a spread."""

    name: str
    text: str
    tolerance: Inches
    of_worst: float
    """Share of the worst case, 0 to 1."""
    of_variance: float
    """Share of the sum of squares, 0 to 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """Upper less lower level, with its spread and what makes it, most first."""

    lower: str
    upper: str
    size: Inches | None
    worst: Inches
    rss: Inches
    shares: tuple[Share, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainResult:
    """A chain as solved; where demands clash, with those let go that the conflicts name."""

    chain: Chain
    levels: tuple[LevelResult, ...]
    steps: tuple[StepResult, ...]
    demands: tuple[DemandResult, ...]
    conflicts: tuple[Conflict, ...]
    unmet: tuple[Unmet, ...]
    missed: Inches
    """Sum of what the demands let go are missed by; 0 where nothing clashes."""

    def z(self, name: str) -> float | None:
        """Return the height of a level; None: open."""
        return next(level.z for level in self.levels if level.name == name)

    def has(self, name: str) -> bool:
        """Say whether the chain has such a level."""
        return any(level.name == name for level in self.levels)
