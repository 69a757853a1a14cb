"""Where a unit bears on its sill, and how high the sill is there."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sillwright.job import Kit, UnitToSet
from sillwright.survey import OpeningNet, Profile, Terms, Wall

DOOR_SPACING, WINDOW_SPACING = 8.0, 16.0
"""Largest distance between pads [in]: 6 to 8 in under a threshold is what two published how-tos give for thin
metal thresholds (docs/method.md, Setting); 16 in for windows is common practice, no source."""

DOOR_WORDS = ("door", "slider", "sliding", "threshold")
_NOISE = 1e-6
"""Share of a mark below which two places are the same: arithmetic, not carpentry."""

Floats = NDArray[np.float64]
Why = Literal["jamb", "mull", "spacing"]


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
    x: Floats
    """Pad places (p,)."""
    why: tuple[Why, ...]
    front_forms: tuple[Terms, ...]
    """The outer edge's height at each pad, as linear forms."""
    front: Floats
    back: Floats | None
    """None where the inner edge was not shot."""
    along: Floats
    """Every place under the unit at which the sill can be highest: pads and stations (m,)."""
    along_front: Floats
    along_back: Floats | None

    @property
    def highest(self) -> float:
        """Return the highest place of the sill under the unit [in]."""
        return float(max(edge.max() for edge in (self.along_front, self.along_back) if edge is not None))

    @property
    def lowest(self) -> float:
        """Return the lowest sill under a pad [in]."""
        return float(min(edge.min() for edge in (self.front, self.back) if edge is not None))


def bearings(wall: Wall, kit: Kit, unit: UnitToSet, *, grid: float) -> Bearings:
    """Return the bearing points of a unit: under both jambs, under mulls, and between at the given spacing.

    Args: grid: places are rounded to this, so that they can be marked [in]
    """
    net = wall.openings[unit.opening]
    left = centred(wall, net, unit)
    places, why = _places(unit, left=left, inset=kit.shim_width / 2.0)
    middle = left + unit.frame_width / 2.0
    x = np.array([_mark(place, toward=middle, grid=grid) for place in places])
    inner = net.sill_inner
    stations = [s for s in net.sill.stations if left < s < left + unit.frame_width]
    along = np.array(sorted({*x.tolist(), *stations}))
    return Bearings(
        unit=unit,
        net=net,
        left=left,
        x=x,
        why=why,
        front_forms=tuple(net.sill.at(place) for place in x),
        front=heights(wall, net.sill, x),
        back=None if inner is None else heights(wall, inner, x),
        along=along,
        along_front=heights(wall, net.sill, along),
        along_back=None if inner is None else heights(wall, inner, along),
    )


def _places(unit: UnitToSet, *, left: float, inset: float) -> tuple[list[float], tuple[Why, ...]]:
    right = left + unit.frame_width
    fixed: list[tuple[float, Why]] = [
        (left + inset, "jamb"),
        *((left + mull, "mull") for mull in unit.mulls),
        (right - inset, "jamb"),
    ]
    fixed.sort()
    spacing = unit.bearing_spacing or (DOOR_SPACING if walked_over(unit) else WINDOW_SPACING)
    found = [fixed[0]]
    for (a, _), (b, why) in pairwise(fixed):
        parts = max(1, ceil((b - a) / spacing - 1e-9))
        found += [(a + (b - a) * k / parts, "spacing") for k in range(1, parts)]
        found.append((b, why))
    return [place for place, _ in found], tuple(why for _, why in found)


def _mark(place: float, *, toward: float, grid: float) -> float:
    """Round a place to the grid; one half way between two marks goes toward the unit's middle."""
    marks = place / grid
    return (floor(marks + 0.5 + _NOISE) if place < toward else ceil(marks - 0.5 - _NOISE)) * grid


def heights(wall: Wall, profile: Profile, places: Floats) -> Floats:
    """Return a profile's adjusted values at many places; the same as its forms give [in]."""
    stations = np.array(profile.stations)
    values = wall.solution.adjustment.x[list(profile.unknown)]
    if len(stations) == 1:
        return np.full(len(places), values[0])
    right = np.clip(np.searchsorted(stations, places), 1, len(stations) - 1)
    share = (places - stations[right - 1]) / (stations[right] - stations[right - 1])
    return np.asarray(values[right - 1] * (1.0 - share) + values[right] * share)


def centred(wall: Wall, net: OpeningNet, unit: UnitToSet) -> float:
    """Return the left side of a unit centred in its opening, or on its sill shots where no jack was read."""
    if net.left is not None and net.right is not None:
        up = np.array(net.left.stations)
        low = float(heights(wall, net.left, up).max())
        high = float(heights(wall, net.right, up).min())
        return (low + high - unit.frame_width) / 2.0
    middle = (net.sill.stations[0] + net.sill.stations[-1]) / 2.0
    return middle - unit.frame_width / 2.0
