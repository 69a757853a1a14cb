"""The deck below, as a job states it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from sillwright.job.values import Length, Model, Number, YesNo, in_order, refuse

Backing = Literal[
    "2x band joist",
    "1 in engineered rim",
    "1-1/8 in engineered rim",
    "solid blocking",
    "4x beam edge",
    "veneer",
    "hollow block",
    "concrete",
    "house overhang",
    "I-joist without rim",
    "not seen",
    "rotten band joist",
]
"""What can be behind a ledger; `structure` knows what each takes."""
SheathingKind = Literal["wood panel", "lumber", "gypsum", "fiberboard", "foam", "none"]
Species = Literal[
    "southern_pine",
    "douglas_fir_larch",
    "hem_fir",
    "spruce_pine_fir",
    "redwood",
    "western_cedar",
    "ponderosa_pine",
    "red_pine",
]
Post = Literal["4x4", "4x6", "6x6", "8x8"]
Beam = Literal["2-2x6", "3-2x6", "2-2x8", "3-2x8", "2-2x10", "3-2x10", "2-2x12", "3-2x12"]


class Obstacle(Model):
    """Something that fasteners of the ledger must keep clear of: a pipe, a vent, a post."""

    x: Length
    """Its middle, along the wall."""
    width: Length = Field(gt=0)
    """How wide it is."""
    what: str
    """What it is."""
    bottom: Length | None = None
    """Its lower edge above the datum; without it, it reaches down past the ledger."""
    top: Length | None = None
    """Its upper edge above the datum; without it, it reaches up past the ledger."""

    @model_validator(mode="after")
    def _sound(self) -> Obstacle:
        in_order(self, ("bottom", "top"))
        return self


class Deck(Model):
    """What is wished of the deck below, and what is known of the place where it meets the wall."""

    openings: tuple[str, ...] | None = Field(default=None, min_length=1)
    """Names of the openings above it; without it, every door along it, and what else has its sill there."""
    threshold_above_unit_bottom: Length | None = Field(default=None, ge=0)
    """Top of a threshold above the underside of its unit, where the unit does not say."""
    step_down: Length | None = Field(default=None, ge=0)
    """From the threshold down to the decking; of several, from the lowest."""
    decking_thickness: Length | None = Field(default=None, gt=0)
    """Thickness of the boards."""
    decking: Literal["wood", "composite"] | None = None
    """What the boards are of."""
    decking_diagonal: YesNo = False
    """They run at up to 45 degrees over the joists rather than square."""
    ledger_depth: Length | None = Field(default=None, ge=0)
    """Depth of the ledger; 0 for a platform that stands free."""
    ledger_thickness: Length = Field(default=1.5, gt=0)
    """Its thickness."""
    ledger_left: Length | None = None
    """Its left end, along the wall; without both ends, it runs as far as the band joist was shot."""
    ledger_right: Length | None = None
    """Its right end, along the wall."""
    ledger_top: Length | None = None
    """Its top above the datum, where that is fixed already."""
    joist_depth: Length | None = Field(default=None, gt=0)
    """Depth of the deck's joists; without it, that of the ledger."""
    joist_below_ledger_top: Length | None = Field(default=None, ge=0)
    """Top of the joists below the top of the ledger; without it, as the heights need it."""
    joist_notch: Length = Field(default=0.0, ge=0)
    """Depth cut out of the underside of each joist at its end."""
    joist_bearing: Length | None = Field(default=None, gt=0)
    """How long each joist bears on its hanger's seat."""
    joist_spacing: Length | None = Field(default=None, gt=0)
    """From joist to joist, on centre; without it, 16 in."""
    joist_span_ft: Number | None = Field(default=None, gt=0)
    """Span of the joists [ft]."""
    live_load_psf: Number | None = Field(default=None, gt=0)
    """Live load [lbf/ft2]."""
    species: Species | None = None
    """Wood of joists and beam, No. 2 or better."""
    beam: Beam | None = None
    """Beam at the outer end of the joists; without it, the least that works is told."""
    beam_span_ft: Number | None = Field(default=None, gt=0)
    """Span of the beam from post to post [ft]."""
    joist_overhang: Length | None = Field(default=None, ge=0)
    """How far joists run on past the beam."""
    beam_overhang: Length | None = Field(default=None, ge=0)
    """How far the beam runs on past its last posts."""
    post: Post | None = None
    """Posts under the beam; without it, the least that reaches is told where their height is known."""
    flush_beam: YesNo = False
    """Joists hang beside the beam rather than lie on it."""
    soil_psf: Number | None = Field(default=None, gt=0)
    """What the ground bears [lbf/ft2], from the building department."""
    fastener: Literal["lag", "bolt"] | None = None
    """Ledger fasteners, 1/2 in: lag screws or bolts with washers; without it, lag screws."""
    backing: Backing | None = None
    """What is behind the ledger, as seen; without it, a 2x band joist where its depth is given."""
    band_top: str | None = None
    """Name of the shots on top of the band joist; without it, any of a band, rim or boundary joist."""
    band_joist_depth: Length | None = Field(default=None, gt=0)
    """Depth of the band joist that would take the ledger."""
    band_thickness: Length = Field(default=1.5, gt=0)
    """Its thickness."""
    band_bears_fully: YesNo | None = None
    """Whether the band joist bears fully on the wall below."""
    sheathing: Length = Field(default=0.5, ge=0)
    """Thickness of what lies between ledger and band joist."""
    sheathing_kind: SheathingKind = "wood panel"
    """What that is."""
    washers: Length = Field(default=0.0, ge=0)
    """Stacked washers between ledger and sheathing."""
    treated: YesNo | None = None
    """Whether the ledger is treated or of a durable kind, No. 2 or better."""
    flashed: YesNo | None = None
    """Whether flashing goes over the ledger."""
    nailed: YesNo | None = None
    """Whether nails or toenails hold the ledger."""
    beams_on_ledger: YesNo | None = None
    """Whether a beam or another point load stands on the ledger."""
    joists_cantilever: YesNo | None = None
    """Whether joists run on past the beam."""
    guard_posts_on_edge: YesNo | None = None
    """Whether guard posts stand on the edge of the deck."""
    ties: Literal["interior", "exterior"] | None = None
    """Lateral ties: two of 1,500 lbf into the floor inside, or four of 750 lbf from outside."""
    tie_capacity_lb: Number | None = Field(default=None, gt=0)
    """Allowable load of each tie, from its maker [lbf]."""
    obstacle: tuple[Obstacle, ...] = ()
    """Each thing that fasteners must keep clear of, besides joist hangers."""
    grade: Length | None = None
    """Lowest ground within 36 in of the deck's edge, above the datum (so mostly negative)."""
    footing_above_grade: Length = Field(default=0.0, ge=0)
    """Top of the footings above the ground."""
    footing_depth: Length | None = Field(default=None, ge=0)
    """Bottom of the footings below the ground."""
    note: str = ""
    """Anything worth keeping beside it."""

    @model_validator(mode="after")
    def _sound(self) -> Deck:
        in_order(self, ("ledger_left", "ledger_right"))
        if (self.ledger_left is None) != (self.ledger_right is None):
            raise refuse("one end of the ledger is given and not the other.", "Give both, or neither.")
        if None not in (past := self.joist_overhang, said := self.joists_cantilever) and said != bool(past):
            raise refuse(
                "joists_cantilever and joist_overhang contradict each other.",
                "Give the overhang alone; 0 says that joists end on the beam.",
            )
        if self.ledger_left is not None and self.ledger_left == self.ledger_right:
            raise refuse("the ledger's ends are one place.", "Tape both from the wall mark.")
        return self
