"""Tests on residuals, what a reading can hide, and how uncertainties combine.

Symbols: w standardised residual, r redundancy number, v residual (adjusted minus observed), alpha the chance
of blaming a good reading, power the chance of finding a bad one, nu degrees of freedom.
Sources of the formulas: docs/method.md, section "Sources".
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import chdtrc, chdtri, ndtri, stdtrit

from sillwright.errors import NotDetermined, OutOfRange
from sillwright.survey.model import GlobalTest
from sillwright.survey.orthant import probabilities_all_above, probability_all_above

__all__ = [
    "TAPE_CLASSES",
    "chi2_limit",
    "chi2_tail",
    "combine",
    "critical_w",
    "estimated_error",
    "family_alpha",
    "global_test",
    "minimal_detectable",
    "noncentrality",
    "probabilities_all_above",
    "probability_all_above",
    "rounding_sd",
    "tape_mpe",
    "tau_limit",
    "welch_satterthwaite",
]

Array = NDArray[np.float64]

ALPHA = 0.001
"""Chance that a good reading is blamed: Baarda's usual choice."""
POWER = 0.80
"""Chance that an error of the minimal detectable size is found: Baarda's usual choice."""
LEAST_DOF = 0.5
"""Degrees of freedom below which nothing is tested; common practice, no source."""
UNCHECKED = 1e-9
"""Redundancy number below which nothing checks a reading."""
_MM_PER_INCH = 25.4

TAPE_CLASSES = {"I": (0.1, 0.1, 0.1), "II": (0.3, 0.2, 0.2), "III": (0.6, 0.4, 0.3)}
"""a [mm], b [mm/m], c [mm] of the tape classes. Source: Directive 2014/32/EU, Annex X, Table 1."""


def critical_w(alpha: float = ALPHA) -> float:
    """Return the limit of |w| for one reading, two-sided: z(1 - alpha/2).

    Args:    alpha: chance of blaming a good reading, above 0, below 1
    Raises:  OutOfRange: alpha outside its limits
    Source:  W. Baarda, A testing procedure for use in geodetic networks, 1968 (data snooping)
    """
    _inside(alpha=alpha)
    return -float(ndtri(alpha / 2.0))


def family_alpha(alpha: float, n: int) -> float:
    """Return the alpha for each of n tests so that all together blame a good reading with chance alpha.

    alpha_1 = 1 - (1 - alpha)^(1/n)

    Args:    alpha: above 0, below 1; n: at least 1
    Raises:  OutOfRange: alpha or n outside their limits
    Source:  Z. Sidak, J. Amer. Statist. Assoc. 62 (1967), 626-633; exact for independent tests
    """
    _inside(alpha=alpha)
    if n < 1:
        raise OutOfRange(f"n = {n}: a family has at least one test")
    return -math.expm1(math.log1p(-alpha) / n)


def noncentrality(alpha: float = ALPHA, power: float = POWER) -> float:
    """Return delta0 = z(1 - alpha/2) + z(power): the shift of w that is found with chance `power`.

    Leaves out the far tail of the two-sided test, below 1e-6 for the usual choices.

    Raises:  OutOfRange: alpha or power not between 0 and 1
    Source:  W. Baarda, 1968
    """
    _inside(power=power)
    return critical_w(alpha) + float(ndtri(power))


def minimal_detectable(
    sd: ArrayLike, redundancy: ArrayLike, *, alpha: float = ALPHA, power: float = POWER
) -> Array:
    """Return the least error of a reading that is found with chance `power`, in the unit of sd.

    MDB = delta0 sigma / sqrt(r); infinite where nothing checks the reading.

    Args:    sd: standard deviations; redundancy: redundancy numbers 0 to 1, of like shape
    Raises:  OutOfRange: alpha or power not between 0 and 1
    Source:  W. Baarda, 1968 (internal reliability)
    """
    sigma, r = np.asarray(sd, dtype=float), np.asarray(redundancy, dtype=float)
    checked = r > UNCHECKED
    bound = noncentrality(alpha, power) * sigma / np.sqrt(np.where(checked, r, 1.0))
    return np.where(checked, bound, np.inf)


def estimated_error(residual: ArrayLike, redundancy: ArrayLike) -> Array:
    """Return the error of a reading (observed minus true) if it alone is wrong: -v / r.

    NaN where nothing checks the reading.

    Source:  W. Baarda, 1968
    """
    v, r = np.asarray(residual, dtype=float), np.asarray(redundancy, dtype=float)
    checked = r > UNCHECKED
    return np.where(checked, -v / np.where(checked, r, 1.0), np.nan)


def chi2_limit(dof: float, probability: float) -> float:
    """Return the value that chi-square with `dof` degrees of freedom does not exceed with `probability`."""
    _inside(probability=probability)
    _positive(dof=dof)
    return float(chdtri(dof, 1.0 - probability))


def chi2_tail(value: float, dof: float) -> float:
    """Return the chance that chi-square with `dof` degrees of freedom exceeds `value` (at least 0)."""
    _positive(dof=dof)
    if not value >= 0:
        raise OutOfRange(f"value = {value}: chi-square is never negative")
    return float(chdtrc(dof, value))


def global_test(vtpv: float, dof: float, *, probability: float = 0.95) -> GlobalTest:
    """Test v'Pv against chi-square: do the readings agree with their standard deviations as a whole.

    Args:    dof: the sum of redundancy numbers, which need not be whole
    Raises:  NotDetermined: less than half a reading is checked; OutOfRange: vtpv negative
    """
    if dof < LEAST_DOF:
        raise NotDetermined("no reading checks another, so their standard deviations cannot be tested")
    limit, tail = chi2_limit(dof, probability), chi2_tail(vtpv, dof)
    return GlobalTest(statistic=vtpv, dof=dof, limit=limit, tail=tail, passed=vtpv <= limit)


def tau_limit(dof: int, alpha: float = ALPHA) -> float:
    """Return the limit of |w| / s0 when the standard deviations are known only up to a factor.

    tau = t sqrt(nu) / sqrt(nu - 1 + t^2), with t = t(1 - alpha/2; nu - 1)

    Args:    dof: nu, at least 2; alpha: above 0, below 1
    Raises:  OutOfRange: with one degree of freedom every checked reading has |w| / s0 = 1
    Source:  A. J. Pope, The statistics of residuals and the detection of outliers, NOAA TR NOS 65 NGS 1, 1976
    """
    _inside(alpha=alpha)
    if dof < 2:
        raise OutOfRange(f"dof = {dof}: a studentised residual tells nothing below two degrees of freedom")
    t = -float(stdtrit(dof - 1, alpha / 2.0))
    return t * math.sqrt(dof) / math.sqrt(dof - 1 + t * t)


def tape_mpe(length: float, *, mid_class: str = "II", from_hook: bool = False) -> float:
    """Return the maximum permissible error of a tape between two marks, plus or minus [in].

    a + b L, in mm, with L in metres rounded up to a whole metre; + c where one end is the hook or butt.

    Args:    length: at least 0 [in]; mid_class: "I", "II" or "III"; from_hook: one end is an end surface
    Raises:  OutOfRange: length negative or not finite, or a class that does not exist
    Source:  Directive 2014/32/EU, Annex X (MI-008), chapter I, Table 1
    """
    if not 0 <= length < math.inf:
        raise OutOfRange(f"length = {length}: a tape reads from 0 up")
    if mid_class not in TAPE_CLASSES:
        raise OutOfRange(f"mid_class = {mid_class!r}: tapes are of class {', '.join(TAPE_CLASSES)}")
    a, b, c = TAPE_CLASSES[mid_class]
    # nine decimals: whole metres given in inches must not be lifted by the last bit
    metres = math.ceil(round(length * _MM_PER_INCH / 1000.0, 9))
    return (a + b * metres + c * from_hook) / _MM_PER_INCH


def rounding_sd(graduation: float) -> float:
    """Return the standard uncertainty of reading to the nearest graduation g: (g/2) / sqrt(3), unit of g.

    Raises:  OutOfRange: graduation not positive
    Source:  JCGM 100:2008 (GUM), 4.3.7: rectangular distribution
    """
    _positive(graduation=graduation)
    return graduation / 2.0 / math.sqrt(3.0)


def combine(*components: float) -> float:
    """Return the combined standard uncertainty of independent components: the root of their summed squares.

    Each component is already multiplied by its sensitivity, all in one unit.

    Source:  JCGM 100:2008 (GUM), 5.1.2
    """
    return math.hypot(*components)


def welch_satterthwaite(components: ArrayLike, dof: ArrayLike) -> float:
    """Return the effective degrees of freedom of a combined standard uncertainty.

    nu_eff = u_c^4 / sum(u_i^4 / nu_i)

    Args:    components: u_i, as for `combine`; dof: nu_i, positive, infinite where u_i is taken as exact
    Raises:  OutOfRange: lengths differ, or a number of degrees of freedom is not positive
    Source:  JCGM 100:2008 (GUM), G.4.1, equation G.2b
    """
    u, nu = np.asarray(components, dtype=float), np.asarray(dof, dtype=float)
    if u.shape != nu.shape or not np.all(nu > 0):
        raise OutOfRange("each component needs its own, positive number of degrees of freedom")
    spread = float(np.sum(u**4 / nu))
    return math.inf if spread == 0.0 else combine(*u) ** 4 / spread


def _inside(**value: float) -> None:
    for name, number in value.items():
        if not 0.0 < number < 1.0:
            raise OutOfRange(f"{name} = {number}: must lie between 0 and 1")


def _positive(**value: float) -> None:
    for name, number in value.items():
        if not 0.0 < number < math.inf:
            raise OutOfRange(f"{name} = {number}: must be a positive, finite number")
