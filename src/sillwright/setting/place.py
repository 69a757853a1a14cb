"""Where one unit goes: its place, clearances, odds, plane and level."""

from __future__ import annotations

import numpy as np

from sillwright.job import Job
from sillwright.setting.bearing import Bearings
from sillwright.setting.choose import PLACES, Chosen
from sillwright.setting.fit import clearances, fit, needs
from sillwright.setting.model import Corner, OrderSize, Pad, UnitPosition
from sillwright.setting.room import meeting
from sillwright.setting.seat import Seat
from sillwright.survey import Wall, plus

TWO_SIDED_95 = 1.96


def position(
    job: Job,
    wall: Wall,
    seat: Seat,
    left: float | None,
    *,
    line: float,
    trimmed: dict[str, float],
    pads: list[Pad],
    size: OrderSize,
) -> UnitPosition:
    """Return where one unit goes, on the line and pads chosen; its corners are given apart.

    `left` is its left side along the wall [in]; None: not known.
    """
    b, unit, kit = seat.bearings, seat.bearings.unit, job.kit
    found = meeting(wall, b)
    rooms = clearances(found, unit, kit, left=left, line=line, trimmed=trimmed)
    asked = needs(found, kit, unit, line=line, trimmed=sum(trimmed.values()))
    mark = PLACES[job.units]
    at = left if left is not None else round(b.left / mark) * mark
    bottom = line + kit.stack_above_line
    misses = [m for pad in pads for m in (pad.front_miss, pad.back_miss) if m is not None]
    return UnitPosition(
        id=f"unit.{seat.name}",
        opening=seat.name,
        kind=unit.kind,
        left=at,
        right=at + unit.frame_width,
        bottom=bottom,
        top=bottom + unit.frame_height,
        width=unit.frame_width,
        height=unit.frame_height,
        position_known=left is not None and b.net.position_known,
        left_clearance=rooms.get("left"),
        right_clearance=rooms.get("right"),
        head_clearance=rooms.get("head"),
        fit=fit(asked, probability=_known(size, b)),
        corners=(),
        out_of_level=max(misses) - min(misses),
        out_of_level_95=_ends_95(wall, b, pads),
        cross_leg=_cross_leg(seat),
        largest_out_of_plane=unit.largest_out_of_plane,
    )


def _known(size: OrderSize, b: Bearings) -> float | None:
    """Return the chance of a unit to fit, where the order size has judged it on the same bearings."""
    for judged in (size.asked, size.largest):
        if judged and (judged.width, judged.height) == (b.unit.frame_width, b.unit.frame_height):
            return judged.probability
    return None


def _ends_95(wall: Wall, b: Bearings, pads: list[Pad]) -> float:
    """Return what the difference of the two end pads stays under in 95 of 100 such walls [in]."""
    spread = plus((1.0, b.front_forms[-1]), (-1.0, b.front_forms[0]))
    return abs(pads[-1].front_miss - pads[0].front_miss) + TWO_SIDED_95 * wall.sd(spread)


def _cross_leg(seat: Seat) -> float | None:
    """Return the gap that strings from corner to corner of the unit would show [in]."""
    if seat.faces is None:
        return None
    (_, _, bl), (_, _, br), (_, _, tl), (_, _, tr) = seat.faces
    return (bl + tr - br - tl) / 2.0


def corners_of(wall: Wall, seat: Seat, chosen: Chosen) -> tuple[Corner, ...]:
    """Return packing and jamb extension at a unit's corners."""
    net, unit = seat.bearings.net, seat.bearings.unit
    plane = chosen.plane.get(seat.name)
    found = []
    for k, name in enumerate(("bottom_left", "bottom_right", "top_left", "top_right")):
        fur = extension = sd = None
        if plane is not None and seat.faces is not None:
            x, h, y = seat.faces[k]
            fur = float(np.maximum(y - (plane[0] + plane[1] * x + plane[2] * h), 0.0))
            fur = 0.0 if fur < 1e-9 else fur
        if name in net.thickness and unit.jamb_depth is not None:
            form = ((net.thickness[name], 1.0),)
            extension = wall.value(form) + (fur or 0.0) - unit.jamb_depth
            sd = wall.sd(form)
        found.append(Corner(corner=name, fur_out=fur, extension=extension, sd=sd))  # type: ignore[arg-type]
    return tuple(found)
