"""What the checks of an opening ask for: one flat record, None where nobody stated it.

Lengths in inches. Where an opening has several panes, run the checks of glass once for each with
`dataclasses.replace`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.rules import check_stated, said

Kind = Literal["door", "window"]
Room = Literal["sleeping", "basement", "habitable attic", "other"]
PaneToDoor = Literal["in plane", "square wall, hinge side", "square wall, latch side"]
"""Where a pane stands to the nearest door; the hinge side is that of a door that swings in."""
GuardPlace = Literal["level", "stair side", "stair triangle"]


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningFacts:
    """One door or window and what stands about it."""

    # RUF009: `said` makes a field with its words, as dataclasses.field does

    kind: Kind | None = said("whether it is a door or a window", one_of=Kind)  # noqa: RUF009
    room: Room | None = said("the kind of room", one_of=Room)  # noqa: RUF009
    year_built: int | None = said("the year the house was built", sign="over 0")
    wall_cut: bool | None = said("whether framing is cut, drilled or opened")

    glass: bool | None = said("whether there is glass in it")
    safety_glass: bool | None = said("whether the glass is labelled as safety glazing")
    pane_area_sqft: float | None = said("the area of one pane", sign="over 0")
    pane_bottom_above_floor: float | None = said(
        "the height of the pane's lower edge above the floor", sign="either"
    )
    pane_top_above_floor: float | None = said("the height of the pane's upper edge above the floor")
    walking_surface_within: float | None = said("the level distance from the pane to where people walk")
    pane_passes_3in_sphere: bool | None = said("whether a 3 in sphere passes the opening of the pane")
    pane_decorative: bool | None = said("whether the glass is decorative")
    pane_beside_door: bool | None = said("whether there is a door near the pane")
    pane_to_door: float | None = said("the distance from the pane to the door's edge")
    pane_place_to_door: PaneToDoor | None = said("how the pane's wall stands to the door", one_of=PaneToDoor)  # noqa: RUF009
    pane_faces_tub_or_shower: bool | None = said("whether the pane faces a tub or shower")
    pane_near_stair: bool | None = said("whether there is a stair or ramp near the pane")
    pane_to_stair: float | None = said("the level distance from the pane to the stair")
    pane_above_stair: float | None = said("the height of the pane's lower edge above the stair beside it")
    pane_to_stair_foot: float | None = said("the level distance from the pane to the lowest nosing")
    pane_above_stair_foot: float | None = said("the height of the pane's lower edge above the lower landing")

    escape_opening: bool | None = said("whether this is the room's emergency escape opening")
    net_clear_width: float | None = said("the net clear width when open, from the unit's data")
    net_clear_height: float | None = said("the net clear height when open, from the unit's data")
    sill_above_floor: float | None = said("the height of the clear opening's sill above the floor")
    sill_above_ground: float | None = said(
        "the height of the clear opening's sill above the ground outside", sign="either"
    )
    well: bool | None = said("whether there is a window well")
    well_width: float | None = said("the width of the window well")
    well_projection: float | None = said("how far the window well stands out")
    well_depth: float | None = said("the depth of the window well")
    well_ladder: bool | None = said("whether the window well has a ladder or steps")

    operable: bool | None = said("whether the window opens")
    largest_sphere: float | None = said("the largest sphere that passes the open window")
    fall_device: bool | None = said("whether a fall prevention device to ASTM F2090 is fitted")

    required_egress_door: bool | None = said("whether it is the required egress door")
    door_clear_width: float | None = said("the clear width with the door open 90 degrees")
    door_clear_height: float | None = said("the clear height of the door")
    door_width: float | None = said("the width of the door", sign="over 0")
    door_swings_over_landing: bool | None = said("whether the door swings over the landing outside")
    drop_outside: float | None = said(
        "how far the landing outside lies below the top of the threshold", sign="either"
    )
    drop_inside: float | None = said(
        "how far the floor inside lies below the top of the threshold", sign="either"
    )
    landing_outside: bool | None = said("whether there is a landing outside")
    landing_width: float | None = said("the width of the landing")
    landing_length: float | None = said("the length of the landing in the direction of travel")
    landing_slope_in_per_12: float | None = said("the slope of the landing")
    stair_outside: bool | None = said("whether there is a stair outside")
    risers_outside: int | None = said("the number of risers outside")
    door_swings_over_stair: bool | None = said("whether the door swings over the stair")
    riser: float | None = said("the height of a riser")
    tread: float | None = said("the depth of a tread")
    riser_spread: float | None = said("the largest less the smallest riser of the flight")
    stair_width: float | None = said("the clear width of the stair above the handrail")
    stair_headroom: float | None = said("the headroom over the stair")

    drops: tuple[tuple[float, float], ...] | None = said(
        "how far it drops beside the walking surface outside", sign="either"
    )
    """Pairs: level distance out from the edge, drop there."""
    guard: bool | None = said("whether there is a guard")
    guard_place: GuardPlace | None = said("where the guard stands", one_of=GuardPlace)  # noqa: RUF009
    guard_height: float | None = said("the height of the guard")
    guard_passes_sphere: float | None = said("the largest sphere that passes the guard")

    climate_zone: str | None = said("the climate zone")
    """0 to 8, or `marine 4`; with its letter, 5A or 4C, will do."""
    high_or_windborne: bool | None = said("whether it is above 4,000 ft or in a windborne debris region")
    u_factor: float | None = said("the U-factor of the whole unit, from its label [Btu/(h ft2 F)]")
    shgc: float | None = said("the solar heat gain coefficient, from its label")

    lot_line_distance: float | None = said("the distance square from the wall to the lot line")
    openings_share_pct: float | None = said("the share of openings in the wall")

    widened: bool | None = said("whether the opening is widened or newly cut")
    bearing_wall: bool | None = said("whether the wall bears a roof or floor")
    header_span: float | None = said("the width between the jack studs", sign="over 0")
    header: str | None = said("the header", form=(r"[1-9]-\d+x\d+", "2-2x10"))
    """As in the table: 2-2x10."""
    header_top_braced: bool | None = said("whether the header's top edge is laterally braced")
    header_no2: bool | None = said("whether the header is No. 2 or better fir-larch, hem-fir, pine or spruce")
    jack_studs: int | None = said("the number of jack studs at each end")
    floors_above: int | None = said("the number of floors the wall bears besides roof and ceiling")
    floor_center_bearing: bool | None = said("whether the floor above bears on a wall or beam in mid-house")
    ground_snow_psf: float | None = said("the ground snow load")
    building_width_ft: float | None = said("the width of the building square to the ridge", sign="over 0")

    def __post_init__(self) -> None:
        check_stated(self)
