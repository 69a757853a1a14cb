"""The water plan as the plan keeps it; lengths in inches.

Verdicts are `sheds`, `held by bond`, `open`. Places on faces are those of the wall: x along it, z up, depth
inward from the face of the sheathing.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from sillwright.flashing.assumed import Assumed
from sillwright.flashing.geometry import LeftOut
from sillwright.quantity import Inches

Holds = Literal["sheds", "held by bond", "open"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterPart:
    """The part of a piece that lies on one face."""

    name: str
    facet: str
    """The face: wall, A.sill, A.left, ledger.top."""
    u: tuple[Inches, Inches]
    """From, to along the first axis of the face."""
    v: tuple[Inches, Inches]
    bonded: bool
    """It holds to what lies below it."""
    held_until: str
    """Piece after which it comes down; empty: it goes down with its piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterPiece:
    """One piece of the dressing, in the order of work."""

    id: str
    name: str
    """As the job's own changes name it."""
    number: int
    words: str
    kind: str
    opening: str
    """Opening that it belongs to; empty: the wall's."""
    roll: str
    family: str
    parts: tuple[WaterPart, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterAct:
    """One thing to do, in the order of work."""

    number: int
    do: str
    """lay, roll, fold down, dry fit, bed in sealant."""
    piece: str
    """Name of the piece."""
    part: str
    """The part that was held up until now; empty: the piece."""
    words: str
    wrong: tuple[str, ...]
    """What comes of doing it here; only an order that the job changes is judged."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterStep:
    """A stretch of the way of water on one face, between the same two layers."""

    facet: str
    over: str
    """Piece that the water lies on; empty: the wood or the sheathing."""
    under: str
    """Piece that lies on the water; empty: it is in the open."""
    bond: Inches
    points: tuple[tuple[Inches, Inches, Inches], ...]
    """x, y inward, z."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterPlace:
    """A place that must stay dry, and the weakest way of water to it."""

    id: str
    place: str
    words: str
    opening: str
    """Empty: away from the openings; ledger: at the ledger."""
    by_weight: Holds
    """When nothing but its weight moves the water."""
    at_head: Holds
    """At the design head, with wind."""
    head_to_wet: Inches | None
    """Least head at which it no longer sheds; None: at none."""
    head_to_open: Inches | None
    """Least head at which water gets there across no bond; None: at none."""
    bond: Inches | None
    """Least bond on any way at the design head; None: no way, so it sheds."""
    way: str
    """The weakest way in words; empty: there is none at any head."""
    steps: tuple[WaterStep, ...]


def weakest_first(places: Iterable[WaterPlace]) -> list[WaterPlace]:
    """Return places with the worst verdict first; of those alike, the least bond, then the least head."""
    rank = {"open": 0, "held by bond": 1, "sheds": 2}
    never = float("inf")
    return sorted(
        places,
        key=lambda each: (
            rank[each.at_head],
            each.bond if each.bond is not None else never,
            each.head_to_wet if each.head_to_wet is not None else never,
            each.place,
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterCorner:
    """A point where faces meet: 360 degrees lie flat, less folds over itself, more opens a slit."""

    id: str
    words: str
    angle_deg: float
    held_by: tuple[str, ...]
    """Pieces that hold the point inside them; none: it is open."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterStanding:
    """A face that should drain but falls the wrong way."""

    id: str
    words: str
    toward: str
    depth: Inches


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterLap:
    """One piece lying over another: the least way that water would have to go between them."""

    id: str
    upper: str
    """Name of the piece on top."""
    lower: str
    where: str
    opening: str
    goes: Literal["up", "sideways", "down", "level"]
    """Where water would have to go; down: it runs in, the lap is reversed."""
    lap: Inches
    bond: Inches
    """So much of it is held by bond."""
    joint: str
    """Kind of joint, as tables of least laps have it; empty: they have none such."""
    required: Inches | None
    """Least lap; None: nobody's number is at hand."""
    said: str
    """In words: what is asked and by whom, or whom to ask."""
    source: str
    result: Literal["met", "not met", "ask the maker", "no such joint"]
    points: tuple[tuple[Inches, Inches, Inches], ...]
    """The least way, from the weather in: x, y inward, z."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterCut:
    """What to cut for one piece."""

    id: str
    piece: str
    roll: str
    make: Literal["folded", "stretched", "formed", "not flat"]
    """Creased only; stretched round a corner; bent and closed at its joints; refused as a flat sheet."""
    along: Inches
    """Longer side of the least rectangle round it; along the roll where its width is known."""
    across: Inches
    strips: int
    """Widths of roll that it is joined from."""
    folds: int
    slits: int
    stretch_pct: float | None
    """How much longer it grows round a corner."""
    fits: bool
    """The roll is wide enough."""
    said: str
    """Why it is no flat sheet, or what is to be known of it; empty: nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterMaterial:
    """How much of one stock the pieces take, before waste."""

    roll: str
    family: str
    pieces: int
    length: Inches | None
    """Along the roll; None: it is counted by its area."""
    width: Inches | None
    """Of the roll, or that of the widest piece where the job does not say it."""
    area_sqft: float
    on_hand: Inches | None
    """Length on hand; None: the job does not say it."""
    result: Literal["enough", "not enough", "not counted"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterPlan:
    """How the wall is dressed, where water can get, and what holds it back."""

    scheme: str
    scheme_words: str
    scheme_watch: str
    """What goes wrong with it; empty: the scheme is the job's own."""
    head: Inches
    """Head of water that the pieces must stand."""
    pressure_psf: float
    head_said: str
    """How the head comes about."""
    head_source: str
    openings: tuple[str, ...]
    """Openings that are dressed."""
    left_out: tuple[LeftOut, ...]
    assumed: tuple[Assumed, ...]
    pieces: tuple[WaterPiece, ...]
    acts: tuple[WaterAct, ...]
    places: tuple[WaterPlace, ...]
    laps: tuple[WaterLap, ...]
    cuts: tuple[WaterCut, ...]
    materials: tuple[WaterMaterial, ...]
    corners: tuple[WaterCorner, ...]
    standing: tuple[WaterStanding, ...]
    worst: Holds
