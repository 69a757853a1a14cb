"""Numbers as an explanation shows them: on the tape, and in decimals so that sums can be checked."""

from __future__ import annotations

from math import erf, sqrt

from sillwright.lengths import Unit, show, to_unit

TWO_SIDED_95 = 1.96
"""Normal quantile: 95 in 100 lie within this many standard deviations. JCGM 100:2008 (GUM), table G.1."""

_GRADUATION: dict[Unit, float] = {"in": 1 / 32, "mm": 0.1}
_DECIMALS: dict[Unit, int] = {"in": 3, "mm": 1}


def tape(length: float, unit: Unit) -> str:
    """Return a length [in] as on a tape, to 1/32 in or 0.1 mm; whole millimetres without decimals."""
    shown = show(length, unit=unit, graduation=_GRADUATION[unit], mark=unit == "mm")
    return shown.replace(".0 mm", " mm")


def exact(length: float, unit: Unit, *, sd: float | None = None) -> str:
    """Return a length [in] in decimals, with its ± at 95% if it has one: `0.412 ± 0.039 in`."""
    decimals = _DECIMALS[unit]
    value = f"{to_unit(length, unit):.{decimals}f}"
    if value.strip("-0.") == "":
        value = value.removeprefix("-")
    spread = "" if sd is None else f" ± {to_unit(TWO_SIDED_95 * sd, unit):.{decimals}f}"
    return f"{value}{spread} {unit}"


def both(length: float, unit: Unit, *, sd: float | None = None) -> str:
    """Return a length [in] as on a tape and in decimals: `13/32 (0.412 ± 0.039 in)`; mm once."""
    decimals = exact(length, unit, sd=sd)
    return decimals if unit == "mm" else f"{tape(length, unit)} ({decimals})"


def above(height: float, unit: Unit, datum: str) -> str:
    """Return a height [in] as on a tape, above the datum or below it."""
    return f"{tape(abs(height), unit)} {'below' if height < 0 else 'above'} {datum}"


def slope(mm_per_m: float, unit: Unit, *, sd: float | None = None) -> str:
    """Return a beam's slope as its maker states it, and over a length a carpenter thinks in."""
    spread = "" if sd is None else f" ± {TWO_SIDED_95 * sd:.2f}"
    over = f"{mm_per_m * 5:.1f} mm in 5 m" if unit == "mm" else f"{mm_per_m * 0.24:.3f} in over 20 ft"
    return f"{mm_per_m + 0.0:.2f}{spread} mm/m, {over}"


def percent(share: float) -> str:
    """Return a probability without rounding it to certainty: 99.95% is not 100%."""
    if share >= 1.0 - 5e-6:
        return "over 99.999%"
    if share > 0.999:
        return f"{100 * share:.3f}%"
    return "under 0.1%" if share < 0.001 else f"{100 * share:.1f}%"


def chance_above(limit: float, *, mean: float, sd: float) -> float:
    """Return how likely a normal quantity is to be at or above a limit; sd 0: certain or impossible."""
    if sd <= 0:
        return float(mean >= limit)
    return 0.5 * (1.0 + erf((mean - limit) / sd / sqrt(2.0)))


def plain_id(ident: str) -> str:
    """Return a name out of an id's parts: `bottom_left` as `bottom left`."""
    return ident.replace("_", " ")
