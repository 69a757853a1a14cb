"""What the code checks of an opening ask for, as a job states it: every key may be left out.

The keys are those of `opening.OpeningFacts`; a test holds the two together.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from sillwright.job.values import Length, Model, Number, Whole, YesNo

Room = Literal["sleeping", "basement", "habitable attic", "other"]
PaneToDoor = Literal["in plane", "square wall, hinge side", "square wall, latch side"]
GuardPlace = Literal["level", "stair side", "stair triangle"]


class Drop(Model):
    """How far it drops beside a walking surface."""

    out: Length = Field(ge=0)
    """Level distance out from its edge."""
    drop: Length
    """Drop there, down to ground or floor."""


class Pane(Model):
    """One pane of glass."""

    safety_glass: YesNo | None = None
    """Whether the glass is labelled as safety glazing."""
    pane_area_sqft: Number | None = Field(default=None, gt=0)
    """The area of one pane."""
    pane_bottom_above_floor: Length | None = None
    """The height of the pane's lower edge above the floor."""
    pane_top_above_floor: Length | None = Field(default=None, ge=0)
    """The height of the pane's upper edge above the floor."""
    walking_surface_within: Length | None = Field(default=None, ge=0)
    """The level distance from the pane to where people walk."""
    pane_passes_3in_sphere: YesNo | None = None
    """Whether a 3 in sphere passes the opening of the pane."""
    pane_decorative: YesNo | None = None
    """Whether the glass is decorative."""
    pane_beside_door: YesNo | None = None
    """Whether there is a door near the pane."""
    pane_to_door: Length | None = Field(default=None, ge=0)
    """The distance from the pane to the door's edge."""
    pane_place_to_door: PaneToDoor | None = None
    """How the pane's wall stands to the door."""
    pane_faces_tub_or_shower: YesNo | None = None
    """Whether the pane faces a tub or shower."""
    pane_near_stair: YesNo | None = None
    """Whether there is a stair or ramp near the pane."""
    pane_to_stair: Length | None = Field(default=None, ge=0)
    """The level distance from the pane to the stair."""
    pane_above_stair: Length | None = Field(default=None, ge=0)
    """The height of the pane's lower edge above the stair beside it."""
    pane_to_stair_foot: Length | None = Field(default=None, ge=0)
    """The level distance from the pane to the lowest nosing."""
    pane_above_stair_foot: Length | None = Field(default=None, ge=0)
    """The height of the pane's lower edge above the lower landing."""


class UnitFacts(Model):
    """What is known of a unit, its room and the place outside it, beyond sizes and readings."""

    room: Room | None = None
    """The kind of room."""
    wall_cut: YesNo | None = None
    """Whether framing is cut, drilled or opened."""
    glass: YesNo | None = None
    """Whether there is glass in it."""
    escape_opening: YesNo | None = None
    """Whether this is the room's emergency escape opening."""
    net_clear_width: Length | None = Field(default=None, ge=0)
    """The net clear width when open, from the unit's data."""
    net_clear_height: Length | None = Field(default=None, ge=0)
    """The net clear height when open, from the unit's data."""
    sill_above_floor: Length | None = Field(default=None, ge=0)
    """The height of the clear opening's sill above the floor."""
    sill_above_ground: Length | None = None
    """The height of the clear opening's sill above the ground outside."""
    well: YesNo | None = None
    """Whether there is a window well."""
    well_width: Length | None = Field(default=None, ge=0)
    """The width of the window well."""
    well_projection: Length | None = Field(default=None, ge=0)
    """How far the window well stands out."""
    well_depth: Length | None = Field(default=None, ge=0)
    """The depth of the window well."""
    well_ladder: YesNo | None = None
    """Whether the window well has a ladder or steps."""
    operable: YesNo | None = None
    """Whether the window opens."""
    largest_sphere: Length | None = Field(default=None, ge=0)
    """The largest sphere that passes the open window."""
    fall_device: YesNo | None = None
    """Whether a fall prevention device to ASTM F2090 is fitted."""
    required_egress_door: YesNo | None = None
    """Whether it is the required egress door."""
    door_clear_width: Length | None = Field(default=None, ge=0)
    """The clear width with the door open 90 degrees."""
    door_clear_height: Length | None = Field(default=None, ge=0)
    """The clear height of the door."""
    door_swings_over_landing: YesNo | None = None
    """Whether the door swings over the landing outside."""
    drop_outside: Length | None = None
    """How far the landing outside lies below the top of the threshold."""
    drop_inside: Length | None = None
    """How far the floor inside lies below the top of the threshold."""
    landing_outside: YesNo | None = None
    """Whether there is a landing outside."""
    landing_width: Length | None = Field(default=None, ge=0)
    """The width of the landing."""
    landing_length: Length | None = Field(default=None, ge=0)
    """The length of the landing in the direction of travel."""
    landing_slope_in_per_12: Number | None = Field(default=None, ge=0)
    """The slope of the landing."""
    stair_outside: YesNo | None = None
    """Whether there is a stair outside."""
    risers_outside: Whole | None = Field(default=None, ge=0)
    """The number of risers outside."""
    door_swings_over_stair: YesNo | None = None
    """Whether the door swings over the stair."""
    riser: Length | None = Field(default=None, ge=0)
    """The height of a riser."""
    tread: Length | None = Field(default=None, ge=0)
    """The depth of a tread."""
    riser_spread: Length | None = Field(default=None, ge=0)
    """The largest less the smallest riser of the flight."""
    stair_width: Length | None = Field(default=None, ge=0)
    """The clear width of the stair above the handrail."""
    stair_headroom: Length | None = Field(default=None, ge=0)
    """The headroom over the stair."""
    guard: YesNo | None = None
    """Whether there is a guard."""
    guard_place: GuardPlace | None = None
    """Where the guard stands."""
    guard_height: Length | None = Field(default=None, ge=0)
    """The height of the guard."""
    guard_passes_sphere: Length | None = Field(default=None, ge=0)
    """The largest sphere that passes the guard."""
    u_factor: Number | None = Field(default=None, ge=0)
    """The U-factor of the whole unit, from its label [Btu/(h ft2 F)]."""
    shgc: Number | None = Field(default=None, ge=0)
    """The solar heat gain coefficient, from its label."""
    lot_line_distance: Length | None = Field(default=None, ge=0)
    """The distance square from the wall to the lot line."""
    openings_share_pct: Number | None = Field(default=None, ge=0)
    """The share of openings in the wall."""
    widened: YesNo | None = None
    """Whether the opening is widened or newly cut."""
    bearing_wall: YesNo | None = None
    """Whether the wall bears a roof or floor."""
    header: str | None = Field(default=None, pattern=r"^[1-9]-\d+x\d+$")
    """The header."""
    header_top_braced: YesNo | None = None
    """Whether the header's top edge is laterally braced."""
    header_no2: YesNo | None = None
    """Whether the header is No. 2 or better fir-larch, hem-fir, pine or spruce."""
    jack_studs: Whole | None = Field(default=None, ge=0)
    """The number of jack studs at each end."""
    floors_above: Whole | None = Field(default=None, ge=0)
    """The number of floors the wall bears besides roof and ceiling."""
    floor_center_bearing: YesNo | None = None
    """Whether the floor above bears on a wall or beam in mid-house."""
    building_width_ft: Number | None = Field(default=None, gt=0)
    """The width of the building square to the ridge."""
    drop: tuple[Drop, ...] = ()
    """How far it drops beside the walking surface outside."""
