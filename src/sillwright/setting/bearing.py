"""Where a unit bears on its sill, and how high the sill is there."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from sillwright.job import Kit, UnitToSet
from sillwright.survey import OpeningNet, Terms, Wall

DOOR_SPACING, WINDOW_SPACING = 8.0, 16.0
"""Largest distance between pads [in]: 6 to 8 in under a threshold is what two published how-tos give for thin
metal thresholds (docs/method.md, Setting); 16 in for windows is common practice, no source."""

DOOR_WORDS = ("door", "slider", "sliding", "threshold")


def walked_over(unit: UnitToSet) -> bool:
    """Tell whether a unit has a threshold: as stated, else by the words of its kind."""
    if unit.threshold is not None:
        return unit.threshold
    return any(word in unit.kind.lower() for word in DOOR_WORDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearings:
    """Bearing points of one unit, and the sill under it."""

    unit: UnitToSet
    net: OpeningNet
    left: float
    """Where the unit's left side is for this purpose: centred in its opening [in]."""
    x: NDArray[np.float64]
    """Pad places (p,)."""
    why: tuple[str, ...]
    front_forms: tuple[Terms, ...]
    back_forms: tuple[Terms, ...]
    """Empty where the inner edge was not shot."""
    front: NDArray[np.float64]
    back: NDArray[np.float64] | None
    along: NDArray[np.float64]
    """Every place under the unit at which the sill can be highest: pads and stations (m,)."""
    along_front: NDArray[np.float64]
    along_back: NDArray[np.float64] | None


def bearings(wall: Wall, kit: Kit, unit: UnitToSet, *, grid: float) -> Bearings:
    """Return the bearing points of a unit: under both jambs, under mulls, and between at the given spacing.

    Args: grid: places are rounded to this, so that they can be marked [in]
    """
    net = wall.openings[unit.opening]
    left = centred(wall, net, unit)
    inset = kit.shim_width / 2.0
    fixed = [(left + inset, "jamb"), (left + unit.frame_width - inset, "jamb")]
    fixed += [(left + mull, "mull") for mull in unit.mulls]
    fixed.sort()
    spacing = unit.bearing_spacing or (DOOR_SPACING if walked_over(unit) else WINDOW_SPACING)
    places = [fixed[0]]
    for (a, _), (b, why) in zip(fixed, fixed[1:], strict=False):
        parts = max(1, ceil((b - a) / spacing - 1e-9))
        places += [(a + (b - a) * k / parts, "spacing") for k in range(1, parts)] + [(b, why)]
    x = np.array([round(place / grid) * grid for place, _ in places])
    inner = net.sill_inner
    stations = [s for s in net.sill.stations if left < s < left + unit.frame_width]
    along = np.array(sorted({*x.tolist(), *stations}))
    front_forms = tuple(net.sill.at(place) for place in x)
    back_forms = () if inner is None else tuple(inner.at(place) for place in x)
    return Bearings(
        unit=unit,
        net=net,
        left=left,
        x=x,
        why=tuple(why for _, why in places),
        front_forms=front_forms,
        back_forms=back_forms,
        front=wall.values(front_forms),
        back=None if inner is None else wall.values(back_forms),
        along=along,
        along_front=wall.values([net.sill.at(place) for place in along]),
        along_back=None if inner is None else wall.values([inner.at(place) for place in along]),
    )


def centred(wall: Wall, net: OpeningNet, unit: UnitToSet) -> float:
    """Return the left side of a unit centred in its opening, or on its sill shots where no jack was read."""
    if net.left is not None and net.right is not None:
        heights = net.left.stations
        low = max(wall.value(net.left.at(h)) for h in heights)
        high = min(wall.value(net.right.at(h)) for h in heights)
        return (low + high - unit.frame_width) / 2.0
    middle = (net.sill.stations[0] + net.sill.stations[-1]) / 2.0
    return middle - unit.frame_width / 2.0
