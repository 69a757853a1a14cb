"""Head of water: how high a wind pressure holds water up, and which pressure counts.

A unit's rated water test is a share of its design pressure. Dams at the sill must stand at least as high as
the water that the pressure holds up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from sillwright.errors import BadInput, Fault, OutOfRange
from sillwright.lengths import MM_PER_INCH
from sillwright.materials.limits import Requirement, requirement
from sillwright.rules import RuleBook

PA_PER_PSF = 47.880_26
"""NIST SP 811 (2008), app. B.8: 1 lbf/ft2 = 4.788 026 E+01 Pa."""
WATER_KG_M3 = 1000.0
GRAVITY_M_S2 = 9.806_65
"""Standard acceleration, NIST SP 811 (2008), app. B.8: exact."""
VELOCITY_FACTOR = 0.00256
"""psf for mph squared: air at sea level and 59 F, ASCE 7 (from memory; printed charts agree)."""

PerformanceClass = Literal["R", "LC", "CW", "AW"]
CLASSES: tuple[PerformanceClass, ...] = get_args(PerformanceClass)


@dataclass(frozen=True, slots=True, kw_only=True)
class TestPressure:
    """Pressure of a unit's rated water test."""

    psf: float
    said: str
    """How it comes about."""
    source: str


def head_in_water(pressure_psf: float) -> float:
    """Return the height of water that a pressure holds up [in].

    h = p / (rho g)

    Args:    pressure_psf: at least 0 [lbf/ft2]
    Raises:  OutOfRange: negative or not finite
    Source:  hydrostatics; NIST SP 811 (2008), app. B.8
    """
    _checked("pressure", pressure_psf, "psf")
    metres = pressure_psf * PA_PER_PSF / (WATER_KG_M3 * GRAVITY_M_S2)
    return metres * 1000.0 / MM_PER_INCH


def pressure_of_head_psf(head: float) -> float:
    """Return the pressure that holds up a height of water [psf].

    Args:    head: at least 0 [in]
    Raises:  OutOfRange: negative or not finite
    """
    _checked("head of water", head, "in")
    return head * MM_PER_INCH / 1000.0 * WATER_KG_M3 * GRAVITY_M_S2 / PA_PER_PSF


def velocity_pressure_psf(wind_mph: float) -> float:
    """Return the pressure of wind brought to rest [psf]; no gusts, no shape of the building.

    q = 0.00256 V^2

    Raises:  OutOfRange: negative or not finite
    Source:  ASCE 7 (from memory); printed speed-to-pressure charts agree
    """
    _checked("wind speed", wind_mph, "mph")
    return VELOCITY_FACTOR * wind_mph**2


def wind_mph_for(pressure_psf: float) -> float:
    """Return the wind speed whose pressure at rest is given [mph]."""
    _checked("pressure", pressure_psf, "psf")
    return math.sqrt(pressure_psf / VELOCITY_FACTOR)


def water_test_pressure(
    performance_class: PerformanceClass, *, design_psf: float, book: RuleBook
) -> TestPressure:
    """Return the pressure of a unit's rated water test: a share of its design pressure, capped by place.

    Args:    performance_class: of a window or door; side-hinged exterior doors are rated otherwise
             design_psf: design pressure, over 0 [psf]
    Raises:  BadInput: no such class; OutOfRange: no design pressure to go by
    Source:  NAFS (AAMA/WDMA/CSA 101/I.S.2/A440), read in trade articles
    """
    if performance_class not in CLASSES:
        what = f"there is no performance class {performance_class!r}."
        raise BadInput(Fault("performance class", what, f"Known: {', '.join(CLASSES)}."))
    if not (math.isfinite(design_psf) and design_psf > 0.0):
        raise OutOfRange(f"a design pressure of {design_psf:g} psf is none; give the one on the label")
    share = requirement("nafs.share_aw" if performance_class == "AW" else "nafs.share", book)
    least, cap = requirement("nafs.least_r", book), requirement("nafs.cap", book)
    used, psf = [share], _number(share) / 100.0 * design_psf
    said = f"{_number(share):g} % of {design_psf:g} psf"
    if performance_class == "R" and psf < _number(least):
        used, psf, said = [share, least], _number(least), f"{said}, but at least {_number(least):g} psf"
    if psf > _number(cap):
        used, psf, said = [share, cap], _number(cap), f"{said}, but at most {_number(cap):g} psf"
    return TestPressure(psf=psf, said=said, source="; ".join(dict.fromkeys(each.source for each in used)))


def back_dam_height(water_psf: float, book: RuleBook) -> float:
    """Return how high a back dam must stand for the pressure that drives water to it [in].

    Raises:  OutOfRange: negative or not finite
    """
    return _number(requirement("dam.back", book)) * head_in_water(water_psf)


def end_dam_height(water_psf: float, book: RuleBook) -> float:
    """Return how high end dams must stand [in]: by the place's own rate, else by the head of water.

    Raises:  OutOfRange: negative or not finite
    Source:  Ontario Building Code, Appendix notes 9.27.3.8(4) and (5): 1 mm for 10 Pa of driving rain wind
             pressure; elsewhere h = p / (rho g)
    """
    rate = requirement("dam.end_rate", book)
    if rate.value is None:
        return _number(requirement("dam.end", book)) * head_in_water(water_psf)
    _checked("pressure", water_psf, "psf")
    return rate.value * water_psf * PA_PER_PSF / 10.0 / MM_PER_INCH


def _number(asked: Requirement) -> float:
    assert asked.value is not None, asked.rule  # noqa: S101 - the table has it for every place
    return asked.value


def _checked(what: str, value: float, unit: str) -> None:
    if not (math.isfinite(value) and value >= 0.0):
        raise OutOfRange(f"a {what} of {value:g} {unit} is none to go by; give a finite one of at least 0")
