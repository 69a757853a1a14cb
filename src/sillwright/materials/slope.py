"""Slopes of sills, as percent, degrees and inches in a foot, and what shrinking wood leaves of them."""

from __future__ import annotations

import math

from sillwright.errors import OutOfRange

SHRINKAGE_PER_PCT = 0.002
"""Of the height of horizontal framing, for each percent of moisture lost across the grain."""
INDOOR_MC_PCT = 8.0
"""Equilibrium of framing in service in Ontario [percent of dry weight]."""
_PER_FOOT = 12.0


def shrinkage(height: float, *, from_mc_pct: float, to_mc_pct: float = INDOOR_MC_PCT) -> float:
    """Return how much horizontal softwood framing loses in height as it dries [in].

    s = 0.002 h (M0 - M1); below 0 it swells; lengthwise it is negligible over three storeys

    Wood wetter than fibre saturation, about 30 percent, does not shrink before it has come down to it: there
    the formula gives too much, which is the safe side.

    Args:    height: of all horizontal members one on the other [in]
             from_mc_pct, to_mc_pct: moisture, 0 to 200 percent of dry weight
    Raises:  OutOfRange: no such height or moisture
    Source:  Canadian Wood Council, in Ontario Building Code, Appendix note 9.27.3.8(4)
    """
    if not (math.isfinite(height) and height >= 0.0):
        raise OutOfRange(f"a height of {height:g} in is none; give one of at least 0")
    for moisture in (from_mc_pct, to_mc_pct):
        if not 0.0 <= moisture <= 200.0:  # false for nan
            raise OutOfRange(f"a moisture of {moisture:g} percent of dry weight is none that wood has")
    return SHRINKAGE_PER_PCT * height * (from_mc_pct - to_mc_pct)


def slope_left_pct(slope_pct: float, *, run: float, settles: float) -> float:
    """Return the slope that is left when the outer edge stays and the inner one settles [percent].

    Args:    slope_pct: as built, down to the outside; run: depth of the slope, level [in]
             settles: how much further the inner edge comes down than the outer one [in]
    Raises:  OutOfRange: no depth to slope over
    """
    if not (math.isfinite(run) and run > 0.0 and math.isfinite(slope_pct) and math.isfinite(settles)):
        raise OutOfRange(f"a slope of {slope_pct:g} percent over {run:g} in is none to go by")
    return slope_pct - 100.0 * settles / run


def slope_deg(slope_pct: float) -> float:
    """Return the angle of a slope [degrees]: arctan of rise over run."""
    return math.degrees(math.atan(slope_pct / 100.0))


def slope_in_per_ft(slope_pct: float) -> float:
    """Return the rise of a slope in a foot of level run [in]."""
    return slope_pct / 100.0 * _PER_FOOT


def pct_of_deg(angle_deg: float) -> float:
    """Return the slope of an angle [percent].

    Raises:  OutOfRange: upright or beyond
    """
    if not abs(angle_deg) < 90.0:  # false for nan
        raise OutOfRange(f"{angle_deg:g} degrees is no slope; give less than 90")
    return 100.0 * math.tan(math.radians(angle_deg))


def pct_of_in_per_ft(rise: float) -> float:
    """Return the slope of a rise in a foot of level run [percent]."""
    return 100.0 * rise / _PER_FOOT
