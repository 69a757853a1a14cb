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


def at(what: str, opening: str) -> str:
    """Return the name of what belongs to one opening."""
    return f"{what} at {opening}" if opening else what


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """Something of a chain that has a name of its own."""

    name: str
    opening: str = ""
    """The opening it belongs to; empty: all of them share it."""
    text: str = ""
    """In words, for people; the name where empty."""

    @property
    def plain(self) -> str:
        """Its name without its opening's."""
        return self.name.removesuffix(at("", self.opening)) if self.opening else self.name

    @property
    def words(self) -> str:
        """The text, or the name."""
        return self.text or self.name


@dataclass(frozen=True, slots=True, kw_only=True)
class Level(Named):
    """A named height; known where `z` is given."""

    z: Inches | None = None
    sd: Inches = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Step(Named):
    """Upper level less lower level: fixed where `size` is given, else found between `low` and `high`."""

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
    shortage: float = 1.0
    """How many times more it counts where the wish is not reached than where it is passed."""
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand(Named):
    """What must hold between two levels that no piece of stock joins: low <= upper - lower <= high."""

    lower: str
    upper: str
    low: Inches = -inf
    high: Inches = inf
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
class LevelResult(Named):
    """A level as solved."""

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
class StepResult(Named):
    """A step as solved."""

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
class DemandResult(Named):
    """A demand as met."""

    lower: str
    upper: str
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
    openings: tuple[str, ...]
    """Whose they are, in the chain's order; empty: shared by all."""
    texts: tuple[str, ...]
    sources: tuple[str, ...]
    """Where its limits come from; empty: sizes and readings only."""
    short: Inches
    """What is missing round the loop that they form."""
    cures: tuple[Cure, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Unmet:
    """A wish that does not come true, and the demands, or else the other wishes, that stand in its way."""

    step: StepResult
    wish: Inches
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
class Link:
    """One relation between two levels, whatever it came from: low <= upper - lower <= high."""

    name: str
    opening: str
    text: str
    lower: str
    upper: str
    low: float
    high: float
    tolerance: float = 0.0
    source: str = ""
    rank: int = 0
    """0 given, 1 to be found, 2 no piece at all."""


@dataclass(frozen=True, slots=True)
class Tree:
    """The pieces that hold the levels."""

    way: dict[str, tuple[Link, ...]]
    """From each level to the one that its tree hangs on."""
    root: dict[str, str]
    """That level: the datum where any piece joins them."""
    held_by: frozenset[str]
    """Names of its links."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainResult:
    """A chain as solved; where demands clash, with those let go that the conflicts name."""

    chain: Chain
    held: Tree
    levels: tuple[LevelResult, ...]
    """Levels, steps and demands stand in the chain's order."""
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
