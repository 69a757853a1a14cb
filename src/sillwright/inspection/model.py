"""What the heights, the ledger and the checks come to, as the plan keeps it; lengths in inches."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.findings import Finding, Severity
from sillwright.heights import Holds, How
from sillwright.quantity import Inches

Came = Literal["met", "not met", "not checked", "outside table", "struck out", "to know"]
"""What a check came to; `to know`: nothing was held against a limit."""
MEMORY = "from memory"
"""What a source says of a number that was not read in print."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Height:
    """One height of the wall and the deck."""

    id: str
    name: str
    opening: str
    """Whose it is; empty: the deck's, and so of all openings above it."""
    text: str
    z: Inches | None
    """Above the datum; None: nothing settles it."""
    worst: Inches | None
    """Most it can be off if every step and reading is off the same way; None: open."""
    rss: Inches | None
    """Root of the sum of squares of the same."""
    sd: Inches | None
    """A third of that: tolerances are taken for three standard deviations."""
    least: Inches | None
    """Lowest it may be, given all the rest; None: no bound."""
    most: Inches | None
    how: How


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightStep:
    """From one height up to another: a piece of stock, a step, or what a rule demands between them."""

    id: str
    name: str
    opening: str
    """Whose it is; empty: the deck's."""
    text: str
    lower: str
    """Id of the lower height."""
    upper: str
    size: Inches | None
    worst: Inches | None
    rss: Inches | None
    least: Inches | None
    """Limit of its own, from below; None: none."""
    most: Inches | None
    holds: Holds
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightConflict:
    """Demands, steps and readings that cannot hold together."""

    openings: tuple[str, ...]
    """Whose they are; none: the deck's own."""
    texts: tuple[str, ...]
    short: Inches
    """What is missing round the loop that they form."""
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionShape:
    """An outline of the section through sill and deck: y inward from the sheathing's face, z up."""

    ref: str
    """Id of the step that it shows, or of the height where it is flat."""
    opening: str
    """Whose section it belongs to; empty: every one."""
    kind: str
    points: tuple[tuple[Inches, Inches], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningAbove:
    """An opening above the deck."""

    opening: str
    door: bool
    """It is walked over; else its sill meets the deck."""
    step_down: Inches | None
    """From its threshold to the walking surface; None: no door, or open."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heights:
    """The vertical chains of all openings above the deck, from the footing to their heads."""

    openings: tuple[OpeningAbove, ...]
    levels: tuple[Height, ...]
    """Lowest first; those that are open come last."""
    steps: tuple[HeightStep, ...]
    demands: tuple[HeightStep, ...]
    conflicts: tuple[HeightConflict, ...]
    assumed: tuple[str, ...]
    """What the job did not say and was taken all the same."""
    shapes: tuple[SectionShape, ...]

    def along(self, opening: str) -> tuple[Height, ...]:
        """Return the heights of one opening and of the deck, lowest first."""
        return tuple(level for level in self.levels if level.opening in ("", opening))

    def section(self, opening: str) -> tuple[SectionShape, ...]:
        """Return the outlines of the section through one opening."""
        return tuple(shape for shape in self.shapes if shape.opening in ("", opening))


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerFastener:
    """One fastener; numbered from the left end, seen from outside."""

    id: str
    number: int
    from_left: Inches
    """From the ledger's left end."""
    x: Inches
    """Along the wall, from the wall mark."""
    row: Literal["low", "high"]
    z: Inches
    below_top: Inches
    """Below the ledger's top edge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BandPlace:
    """The band joist behind, at one place along the wall."""

    x: Inches
    bottom: Inches
    top: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptClear:
    """Something in the way of fasteners: along the wall, and how high it reaches."""

    what: str
    left: Inches
    right: Inches
    bottom: Inches | None
    """None: past the ledger's underside."""
    top: Inches | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LagScrew:
    """How long a ledger's lag screws are, and how far they stand in the wood behind."""

    length: Inches
    """Shortest stock length whose tapered tip comes out past the wood behind."""
    tip: Inches
    """Tapered tip, not counted."""
    penetration: Inches
    """Into the wood behind, without the tip."""
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerPlan:
    """A ledger with every fastener; none where a stop says why."""

    left: Inches
    """Left end, from the wall mark."""
    right: Inches
    top: Inches
    bottom: Inches
    size: str
    """Nominal size, where it is one: 2x10."""
    fastener: Literal["lag", "bolt"]
    spacing: Inches | None
    """Greatest spacing that the table allows; None: outside the table."""
    spacing_source: str
    spacing_row: str
    """Row of the table that was used."""
    from_memory: bool
    """The number was not read in the printed table: look it up before building."""
    lag: LagScrew | None
    """None: it is bolted."""
    greatest_gap: Inches | None
    """Greatest distance of neighbours as laid out."""
    least_count: int
    """Fasteners the spacing alone would need."""
    fasteners: tuple[LedgerFastener, ...]
    joists: tuple[Inches, ...]
    """Centres of the joists, from the ledger's left end."""
    joist_top: Inches | None
    joist_depth: Inches
    band: tuple[BandPlace, ...]
    studs: tuple[tuple[Inches, Inches], ...]
    """Jack and king studs beside the openings: from, to, along the wall."""
    kept_clear: tuple[KeptClear, ...]
    """What the fasteners keep clear of, besides joist hangers and studs."""
    ties: tuple[Inches, ...]
    """Lateral ties, from the ledger's left end."""
    assumed: tuple[str, ...]
    """What the job did not say and was taken all the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FramingValue:
    """One number out of a span or footing table."""

    id: str
    what: str
    value: str
    asked: str
    """What it is held against; empty: nothing."""
    met: bool
    source: str
    row: str
    from_memory: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckFrame:
    """Joists, beam and posts of a deck from above; x from the ledger's left end."""

    length: Inches
    """Along the wall."""
    span: Inches
    """Of the joists, out from the wall to the beam."""
    joist_overhang: Inches
    """Of the joists past the beam."""
    beam_overhang: Inches
    """Of the beam past its last posts."""
    joists: tuple[Inches, ...]
    posts: tuple[Inches, ...]
    """Centres of the posts; none where the beam's span is not stated."""
    post_side: Inches
    joist_words: str
    beam_words: str
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionRow:
    """One line of the inspector's sheet: finding, value, limit, source, answer."""

    id: str
    """Of the check, or of the finding where there is one."""
    place: str
    what: str
    value: str
    limit: str
    source: str
    result: Came
    severity: Severity | None
    """None: nothing to do."""
    answer: str
    from_memory: bool
    """A number of its source was not read in print."""

    @classmethod
    def of(cls, finding: Finding, came: Came = "not met") -> InspectionRow:
        """Return a finding as the inspector reads it."""
        return cls(
            id=finding.id,
            place=finding.place,
            what=finding.message,
            value=finding.value,
            limit=finding.limit,
            source=finding.source,
            result=came,
            severity=finding.severity,
            answer=finding.answer,
            from_memory=MEMORY in finding.source,
        )
