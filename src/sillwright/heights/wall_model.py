"""What is known of a wall's heights, in plain numbers: inches, z up from the datum, deviations 1 sigma.

The tolerances set here are common practice, no source; give your own where you know better.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.quantity import Inches

Swing = Literal["in", "out", "slides"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A measured height at one place along the wall."""

    x: Inches
    z: Inches
    sd: Inches = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """Something under the unit: sloped strip, membrane, sealant bed."""

    name: str
    thickness: Inches
    """At its thickest."""
    tolerance: Inches = 1 / 64
    thin: Inches | None = None
    """At the outside, where it slopes; None: as thick as elsewhere."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorHeights:
    """What makes the unit a door."""

    threshold_above_unit_bottom: Inches
    threshold_tolerance: Inches = 1 / 32
    egress: bool = False
    """The required egress door."""
    swing: Swing = "slides"
    swing_clear: Inches = 0.5
    """Least room under the leaf over rug, mat or decking; common practice, no source."""
    floor: tuple[Place, ...] = ()
    """Finished floor inside."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitHeights:
    """A unit and what it stands on."""

    opening: str
    """Name of the opening it stands in."""
    frame_height: Inches
    line: Inches | None = None
    """Level line, tops of the pads; None: to be found."""
    line_sd: Inches = 1 / 48
    """Pads are within 1/16 in of the line at worst."""
    layers: tuple[Layer, ...] = ()
    """From the line up to the underside of the unit."""
    frame_tolerance: Inches = 1 / 16
    rough_sill: tuple[Place, ...] = ()
    head: tuple[Place, ...] = ()
    largest_pad: Inches = 1.0
    planing_max: Inches = 0.0
    least_head_clearance: Inches = 0.25
    nosing_thickness: Inches | None = None
    """Of a nosing that hangs below the underside of the unit."""
    door: DoorHeights | None = None
    """None: nobody steps out of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckHeights:
    """The deck as wished; a ledger depth of None or 0 stands for a platform on its own posts."""

    decking_thickness: Inches
    joist_depth: Inches
    step_down: Inches | None = None
    """From each threshold down to the walking surface, as wished; None: any."""
    ledger_depth: Inches | None = None
    ledger_top: Inches | None = None
    """Where that is fixed already."""
    joist_below_ledger_top: Inches | None = 0.0
    """Top of the joists below the top of the ledger; None: to be found."""
    joist_notch: Inches = 0.0
    """Depth cut out of the underside of each joist at its end."""
    lags: bool = True
    """Ledger fastened with lag screws, or with bolts at the spacing of lag screws."""
    beam_depth: Inches | None = None
    flush_beam: bool = False
    """Joists hang beside the beam rather than lie on it."""
    set_out_tolerance: Inches = 1 / 16
    lumber_tolerance: Inches = 1 / 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Backing:
    """The band joist that takes the ledger."""

    top: tuple[Place, ...]
    depth: Inches
    depth_tolerance: Inches = 1 / 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """Grade and footings."""

    grade: Place
    """Lowest within 36 in of the deck's edge."""
    footing_above_grade: Inches = 0.0
    footing_depth: Inches | None = None
    """Bottom of the footing below grade."""
    set_out_tolerance: Inches = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class WallHeights:
    """All that is known of the heights of one unit or more, and of the one deck below them."""

    units: tuple[UnitHeights, ...]
    deck: DeckHeights | None = None
    backing: Backing | None = None
    ground: Ground | None = None


def extremes(places: tuple[Place, ...]) -> list[tuple[str, Place]]:
    """Return the lowest and the highest place, each with that word; only the lowest where they are one."""
    if not places:
        return []
    ordered = sorted(places, key=lambda place: place.z)
    both = [("lowest", ordered[0]), ("highest", ordered[-1])]
    return both if ordered[0] != ordered[-1] else both[:1]
