"""What a setting plan tells: frozen results, all lengths in inches."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.quantity import Inches

Side = Literal["left", "right"]
Edge = Literal["outer", "inner"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """Shims of one kind in a pad."""

    thickness: Inches
    thin: Inches | None
    """Thin edge of a tapered shim; None: flat."""
    count: int
    place: Literal["through", "front", "back", "thick edge front", "thick edge back"]
    """Through: the full depth of the sill; front or back: that half only."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pad:
    """A stack of shims at one bearing point; its number is the one on the drawing and on the shims."""

    id: str
    number: int
    opening: str
    x: Inches
    why: Literal["jamb", "mull", "spacing"]
    front: Inches
    """Thickness at the outer edge of the sill."""
    back: Inches | None
    """Thickness at the inner edge; None: the inner edge was not shot."""
    pieces: tuple[Piece, ...]
    make_up: str
    """In words, from the stock: `1/4 + 1/16 through, 1/32 more at the back`."""
    front_miss: Inches
    """Expected top at the outer edge less the line: what the stock's steps leave."""
    back_miss: Inches | None
    sd: Inches
    """Of the top's height."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarePoint:
    """A bearing point that takes no pad: the sill is at the line there, or is planed to it."""

    opening: str
    x: Inches
    why: Literal["jamb", "mull", "spacing"]
    back_known: bool
    """The inner edge was shot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanedRun:
    """A stretch of sill to be planed down to the line."""

    id: str
    number: int
    opening: str
    edge: Edge
    start: Inches
    end: Inches
    deepest: Inches
    deepest_x: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """Framing to be cut back because nothing else makes the unit fit."""

    id: str
    number: int
    opening: str
    side: Side
    amount: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearance:
    """Room between the unit and the framing on one side."""

    least: Inches
    sd: Inches
    where: str
    """Where it is least."""
    demanded: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """What a unit's corner needs across the wall."""

    corner: Literal["bottom_left", "bottom_right", "top_left", "top_right"]
    fur_out: Inches | None
    """Packing between the sheathing and the unit's plane; None: not determined."""
    extension: Inches | None
    """Jamb extension to the inner face of the wall; negative: the jamb stands proud; None: not determined."""
    sd: Inches | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How surely a unit fits."""

    probability: float
    governed_by: str
    """The clearance most likely to fail."""
    not_determined: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitPosition:
    """Where one unit goes."""

    id: str
    opening: str
    kind: str
    left: Inches
    """Left side of the frame, from the wall mark."""
    right: Inches
    bottom: Inches
    top: Inches
    width: Inches
    height: Inches
    position_known: bool
    left_clearance: Clearance | None
    right_clearance: Clearance | None
    head_clearance: Clearance | None
    fit: Fit | None
    corners: tuple[Corner, ...]
    out_of_level: Inches
    """Expected difference between the highest and lowest pad top."""
    out_of_level_95: Inches
    """What the difference between its two ends stays under in 95 of 100 such walls."""
    cross_leg: Inches | None
    largest_out_of_plane: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A point of a sill."""

    opening: str
    x: Inches
    edge: Edge
    z: Inches
    sd: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """The level line of one row, or of one opening where the row steps."""

    id: str
    openings: tuple[str, ...]
    z: Inches
    """Height of the tops of the pads above the datum."""
    unit_bottom: Inches
    """Line plus everything between it and the units."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RowPlan:
    """One row of openings on one level line."""

    id: str
    openings: tuple[str, ...]
    lines: tuple[Line, ...]
    stepped: bool
    low_end: Place
    high_point: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One part of the objective."""

    name: str
    count: float | None
    """How many; None: it goes by length."""
    minutes_each: float | None
    length: Inches | None
    """How long, deep or far off; None: it goes by number."""
    minutes_per_inch: float | None
    minutes: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """A way to set a row: the chosen one, or one that differs in kind."""

    id: str
    openings: tuple[str, ...]
    """Of the row that is set so."""
    kind: str
    sentence: str
    minutes: float
    pads: int
    pieces: int
    planed_runs: int
    line: Inches
    chosen: bool
    terms: tuple[Term, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """Something asked of the plan that can conflict with the rest."""

    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """The smallest set of demands of a row that cannot all be met, and the least change that cures it."""

    id: str
    openings: tuple[str, ...]
    """Those whose demands clash."""
    in_rows: tuple[tuple[str, ...], ...]
    """Openings of each row that they stand in."""
    demands: tuple[Demand, ...]
    cure: str
    by: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeOdds:
    """A frame size and how surely it fits."""

    width: Inches
    height: Inches
    probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderSize:
    """What to order for one opening."""

    id: str
    opening: str
    asked: SizeOdds | None
    largest: SizeOdds | None
    """Largest size on offer that fits with the probability asked for; None: none does, or not determined."""
    wanted_probability: float
    offered: tuple[SizeOdds, ...]
    smallest_tape: tuple[Inches, Inches] | None
    """Smallest taped width and height less clearances: shown to compare, not to order by."""
    jamb_depth: tuple[Inches, Inches] | None
    """Least and greatest depth from the unit's face to the inner face of the wall."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReshotPad:
    """One pad shot again."""

    number: int
    edge: Edge
    path: str
    off: Inches
    """Top less the line."""
    sd: Inches
    correction: str
    """What to do; empty: leave it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reshoot:
    """Verdict on the pads after they were fixed."""

    verdict: Literal["accept", "correct", "shoot again"]
    sentence: str
    pads: tuple[ReshotPad, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """Something to do, numbered as on the drawing."""

    number: int
    kind: Literal["plane", "pad", "trim", "set", "fur"]
    opening: str
    x: Inches
    z: Inches
    text: str
    ref: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StockUse:
    """How many shims of one kind the pads take."""

    thickness: Inches
    thin: Inches | None
    needed: int
    on_hand: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """A piece to cut."""

    id: str
    what: Literal["shim", "sloped strip"]
    opening: str
    count: int
    length: Inches | None
    """None: to the depth or width found at the wall."""
    width: Inches | None
    thick: Inches | None
    thin: Inches | None
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """The setting plan of a wall."""

    rows: tuple[RowPlan, ...]
    pads: tuple[Pad, ...]
    planed: tuple[PlanedRun, ...]
    trims: tuple[Trim, ...]
    units: tuple[UnitPosition, ...]
    options: tuple[Option, ...]
    order_sizes: tuple[OrderSize, ...]
    conflicts: tuple[Conflict, ...]
    reshoot: Reshoot | None
    stock: tuple[StockUse, ...]
    cuts: tuple[Cut, ...]
    acts: tuple[Act, ...]
    objective: str
    """What was minimised, in words."""
    bare: tuple[BarePoint, ...] = ()
