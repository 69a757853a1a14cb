"""Dew point of air by the Magnus formula, over water.

Below 0 C a handbook's value is the frost point, over ice, up to 0.7 C higher at -5 C; a sensor's dew point
may be either.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sillwright.errors import OutOfRange


@dataclass(frozen=True, slots=True, kw_only=True)
class Magnus:
    """A set of constants, with the temperatures it was fitted over."""

    a: float
    b_c: float
    least_c: float
    most_c: float
    source: str


ALDUCHOV_ESKRIDGE = Magnus(
    a=17.625,
    b_c=243.04,
    least_c=-40.0,
    most_c=50.0,
    source="Alduchov and Eskridge 1996, read on two public pages",
)
SONNTAG = Magnus(a=17.62, b_c=243.12, least_c=-45.0, most_c=60.0, source="Sonntag 1990, from memory")
BOLTON = Magnus(
    a=17.67,
    b_c=243.5,
    least_c=-30.0,
    most_c=35.0,
    source="Bolton 1980, from memory; fits hourly weather data",
)
OLDER = Magnus(
    a=17.27, b_c=237.7, least_c=0.0, most_c=60.0, source="an older set, read in a worked answer; within 0.4 C"
)
CONSTANTS = {"alduchov-eskridge": ALDUCHOV_ESKRIDGE, "sonntag": SONNTAG, "bolton": BOLTON, "older": OLDER}


def dew_point_c(air_c: float, *, humidity_pct: float, constants: Magnus = ALDUCHOV_ESKRIDGE) -> float:
    """Return the dew point of air, over water [C].

    g = a T / (b + T) + ln(RH / 100), Td = b g / (a - g)

    Args:    air_c: within the range of the constants [C]; humidity_pct: over 0, at most 100
    Raises:  OutOfRange: beyond either
    Source:  Magnus form; constants by their own source
    """
    if not constants.least_c <= air_c <= constants.most_c:  # false for nan
        raise OutOfRange(
            f"air of {air_c:.1f} C is beyond {constants.least_c:g} to {constants.most_c:g} C, "
            f"for which these constants hold ({constants.source})"
        )
    if not 0.0 < humidity_pct <= 100.0:
        raise OutOfRange(f"a humidity of {humidity_pct:g} percent is none; give one over 0, at most 100")
    g = constants.a * air_c / (constants.b_c + air_c) + math.log(humidity_pct / 100.0)
    return constants.b_c * g / (constants.a - g)


def dew_point_f(air_f: float, *, humidity_pct: float, constants: Magnus = ALDUCHOV_ESKRIDGE) -> float:
    """Return the dew point of air, over water [F]; see `dew_point_c`."""
    return to_f(dew_point_c(to_c(air_f), humidity_pct=humidity_pct, constants=constants))


def to_c(temperature_f: float) -> float:
    """Return a temperature in degrees Celsius."""
    return (temperature_f - 32.0) * 5.0 / 9.0


def to_f(temperature_c: float) -> float:
    """Return a temperature in degrees Fahrenheit."""
    return temperature_c * 9.0 / 5.0 + 32.0
