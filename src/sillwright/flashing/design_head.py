"""The head of water that the pieces must stand, by what a job says of it."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.flashing.assumed import Assumed
from sillwright.inspection.ledger_load import PSF_PER_KPA
from sillwright.job import Water
from sillwright.lengths import Unit, show
from sillwright.materials import (
    head_in_water,
    pressure_of_head_psf,
    requirement,
    velocity_pressure_psf,
    water_test_pressure,
)
from sillwright.rules import RuleBook

KM_PER_MILE = 1.609_344
"""NIST SP 811 (2008), app. B.8: exact."""
HYDROSTATICS = "hydrostatics, p = ρ g h"


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadOfWater:
    """How high wind can hold water up."""

    head: float
    """Inches."""
    psf: float
    said: str
    """How it comes about."""
    source: str
    assumed: tuple[Assumed, ...] = ()


def design_head(water: Water, book: RuleBook, *, units: Unit) -> HeadOfWater:
    """Return the head of water that a job asks its pieces to stand.

    Raises:  OutOfRange: a pressure or a speed that is none
    """
    if water.head is not None:
        return of_head(water.head, "the job's own head of water")
    if water.performance_class is not None and water.design_pressure_psf is not None:
        test = water_test_pressure(water.performance_class, design_psf=water.design_pressure_psf, book=book)
        return of_psf(test.psf, f"water test of the unit: {test.said}", test.source)
    psf, said = _stated(water)
    if psf is not None:
        return of_psf(psf, said, HYDROSTATICS)
    least = requirement("nafs.least_r", book)
    psf = least.value or 0.0
    found = of_psf(psf, "least water test of a window of class R", least.source)
    text = f"water driven by {psf:g} psf, a head of {show(found.head, unit=units, mark=True)}: {found.said}"
    return HeadOfWater(
        head=found.head,
        psf=psf,
        said=found.said,
        source=found.source,
        assumed=(Assumed(key="water.pressure_psf", text=text),),
    )


def of_head(head: float, said: str) -> HeadOfWater:
    """Return a head that is stated [in]."""
    return HeadOfWater(head=head, psf=pressure_of_head_psf(head), said=said, source=HYDROSTATICS)


def of_psf(psf: float, said: str, source: str = HYDROSTATICS) -> HeadOfWater:
    """Return the head of a pressure [psf]."""
    return HeadOfWater(head=head_in_water(psf), psf=psf, said=said, source=source)


def _stated(water: Water) -> tuple[float | None, str]:
    if water.pressure_Pa is not None:
        return water.pressure_Pa / 1000.0 * PSF_PER_KPA, f"pressure of {water.pressure_Pa:g} Pa"
    if water.pressure_psf is not None:
        return water.pressure_psf, f"pressure of {water.pressure_psf:g} psf"
    if water.wind_km_h is not None:
        mph = water.wind_km_h / KM_PER_MILE
        return velocity_pressure_psf(mph), f"wind of {water.wind_km_h:g} km/h brought to rest"
    if water.wind_mph is not None:
        return velocity_pressure_psf(water.wind_mph), f"wind of {water.wind_mph:g} mph brought to rest"
    return None, ""
