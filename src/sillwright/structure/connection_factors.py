"""What makes a connection weaker than its fasteners: group action, distances, moisture.

Source: NDS 2018 11.3.3, 11.3.6, 12.5.1. Z' = Z CD CM Cg C_delta.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from sillwright.structure.dowels import LARGE
from sillwright.structure.given import need_one_of, need_positive
from sillwright.structure.tables import refuse
from sillwright.structure.timber import DURATIONS

WET_DOWEL = 0.7
"""CM, wet in service: lateral values; lag and wood screws in withdrawal (Table 11.3.3, from memory)."""
WOOD_TO_WOOD, WOOD_TO_METAL = 180000.0, 270000.0

FULL_AND_LEAST = {
    "end_tension_softwood": (7.0, 3.5),
    "end_tension_hardwood": (5.0, 2.5),
    "end_compression": (4.0, 2.0),
    "end_across_grain": (4.0, 2.0),
    "spacing_in_row": (4.0, 3.0),
}
"""Distances in diameters for the full value, and the least allowed (Tables 12.5.1A, B, from memory)."""

EDGE_LEAST = {"loaded_across_grain": 4.0, "unloaded_across_grain": 1.5, "along_grain": 1.5}
"""Least edge distances in diameters (Table 12.5.1C; the 6 D rule for l/D over 6 is not needed here)."""
_EDGES = {
    "loaded_across_grain": "a loaded edge",
    "unloaded_across_grain": "an edge away from the load",
    "along_grain": "an edge beside the load",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerRow:
    """A row of equal fasteners along the load."""

    count: int
    spacing: float
    """[in]"""
    diameter: float
    """Nominal [in]."""
    stiffness_main_lbf: float
    """Em Am: modulus times area of the main member."""
    stiffness_side_lbf: float
    """Es As."""
    metal_side: bool = False

    def __post_init__(self) -> None:
        need_positive(
            count=self.count,
            spacing=self.spacing,
            diameter=self.diameter,
            stiffness_main_lbf=self.stiffness_main_lbf,
            stiffness_side_lbf=self.stiffness_side_lbf,
        )


def group_action(row: FastenerRow) -> float:
    """Return Cg, how much of its full value each fastener of a row brings; 1 under 1/4 in or for one.

    Cg = [m (1 - m^2n) / (n ((1 + R m^n)(1 + m) - 1 + m^2n))] (1 + R)/(1 - m);
    u = 1 + g (s/2) (1/EmAm + 1/EsAs), m = u - sqrt(u^2 - 1), g = 180000 D^1.5 (270000 for metal sides).

    Source: NDS 2018 11.3.6, equation 11.3-1
    """
    if row.diameter < LARGE or row.count == 1:
        return 1.0
    slip = (WOOD_TO_METAL if row.metal_side else WOOD_TO_WOOD) * row.diameter**1.5
    low, high = sorted((row.stiffness_main_lbf, row.stiffness_side_lbf))
    r = low / high
    u = 1.0 + slip * row.spacing / 2.0 * (1.0 / low + 1.0 / high)
    m, n = u - sqrt(u**2 - 1.0), row.count
    first: float = m * (1.0 - m ** (2 * n)) / (n * ((1.0 + r * m**n) * (1.0 + m) - 1.0 + m ** (2 * n)))
    return float(first * (1.0 + r) / (1.0 - m))


def geometry_factor(rule: str, *, distance: float, diameter: float) -> float:
    """Return C_delta of one distance: distance over the full one, at most 1; the least governs the joint.

    Args: rule: a key of `FULL_AND_LEAST`; distance, diameter: [in]
    Raises: BadInput: rule not known; OutOfRange: nearer than the least allowed
    Source: NDS 2018 12.5.1; fasteners under 1/4 in have no factor
    """
    need_one_of(FULL_AND_LEAST, rule=rule)
    need_positive(distance=distance, diameter=diameter)
    if diameter < LARGE:
        return 1.0
    full, least = FULL_AND_LEAST[rule]
    if distance < least * diameter - 1e-9:
        raise refuse(
            f"{rule.replace('_', ' ')} of {distance:g} in is less than {least:g} D, {least * diameter:g} in"
        )
    return min(1.0, distance / (full * diameter))


def edge_distance(rule: str, *, diameter: float) -> float:
    """Return the least edge distance [in]; nearer the joint has no value (NDS Table 12.5.1C)."""
    need_one_of(EDGE_LEAST, rule=rule)
    need_positive(diameter=diameter)
    return EDGE_LEAST[rule] * diameter


def need_edge(rule: str, distance: float, *, diameter: float) -> None:
    """Refuse an edge nearer than the least.

    Raises: OutOfRange: it is; names the bound
    """
    least = edge_distance(rule, diameter=diameter)
    if distance < least - 1e-9:
        raise refuse(f"{_EDGES[rule]} of {distance:g} in is less than {least / diameter:g} D, {least:g} in")


def row_spacing(*, bearing_length: float, diameter: float) -> float:
    """Return the least distance of rows loaded across the grain [in].

    l/D to 2: 2.5 D; between: (5 l + 10 D)/8; from 6: 5 D.

    Args: bearing_length l: of the dowel in the main or the side member, whichever is shorter [in]
    Source: NDS 2018 Table 12.5.1D, from memory
    """
    need_positive(bearing_length=bearing_length, diameter=diameter)
    ratio = bearing_length / diameter
    if ratio <= 2.0:
        return 2.5 * diameter
    return 5.0 * diameter if ratio >= 6.0 else (5.0 * bearing_length + 10.0 * diameter) / 8.0


def adjusted_lateral(
    z_lbf: float, *, duration: str, wet: bool = False, group: float = 1.0, geometry: float = 1.0
) -> float:
    """Return Z' = Z CD CM Cg C_delta of one fastener [lbf].

    Raises: BadInput: duration not known, or a value not above 0
    """
    need_one_of([name for name in DURATIONS if name != "impact"], duration=duration)
    need_positive(z_lbf=z_lbf, group=group, geometry=geometry)
    return z_lbf * DURATIONS[duration] * (WET_DOWEL if wet else 1.0) * group * geometry
