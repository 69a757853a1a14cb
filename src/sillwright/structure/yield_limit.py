"""Yield-limit equations: what one dowel carries across a joint, in every mode, with the governing one named.

Source: NDS 2018 Tables 12.3.1A (single shear), 12.3.1A double shear column, 12.3.1B (reduction terms).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

from sillwright.structure.dowels import LARGE, Dowel, Side
from sillwright.structure.given import need_positive
from sillwright.structure.tables import refuse

LEAST_PENETRATION = {"lag screw": 4.0, "wood screw": 6.0, "nail": 6.0}
"""Least penetration of the main member in diameters (NDS 12.1.4.6, 12.1.5.6, 12.1.6.5)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lateral:
    """Reference lateral value of one dowel, all shear planes together [lbf]."""

    modes: Mapping[str, float]

    @property
    def mode(self) -> str:
        """Return the yield mode that governs."""
        return min(self.modes, key=lambda mode: self.modes[mode])

    @property
    def z_lbf(self) -> float:
        """Return the least of the modes."""
        return self.modes[self.mode]


def single_shear(dowel: Dowel, *, main: Side, side: Side) -> Lateral:
    """Return what one dowel carries in one shear plane [lbf].

    Im D lm Fem/Rd; Is D ls Fes/Rd; II k1 D ls Fes/Rd; IIIm k2 D lm Fem/((1+2Re) Rd);
    IIIs k3 D ls Fem/((2+Re) Rd); IV D^2/Rd sqrt(2 Fem Fyb/(3 (1+Re))); Re = Fem/Fes, Rt = lm/ls.

    Raises: OutOfRange: penetration of the main member under the least the standard gives
    Source: NDS 2018 Table 12.3.1A
    """
    _enough_penetration(dowel, main)
    d, fyb, lm, ls = dowel.diameter, dowel.fyb_psi, main.bearing_length, side.bearing_length
    fem, fes = main.fe_psi, side.fe_psi
    re, rt = fem / fes, lm / ls
    r1, r2, r3 = _reductions(dowel, main, side)
    k1 = (sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) - re * (1 + rt)) / (1 + re)
    k2 = -1 + sqrt(2 * (1 + re) + 2 * fyb * (1 + 2 * re) * d**2 / (3 * fem * lm**2))
    return Lateral(
        modes={
            "Im": d * lm * fem / r1,
            "Is": d * ls * fes / r1,
            "II": k1 * d * ls * fes / r2,
            "IIIm": k2 * d * lm * fem / ((1 + 2 * re) * r3),
            "IIIs": _k3(dowel, fem=fem, re=re, ls=ls) * d * ls * fem / ((2 + re) * r3),
            "IV": d**2 / r3 * sqrt(2 * fem * fyb / (3 * (1 + re))),
        }
    )


def double_shear(dowel: Dowel, *, main: Side, side: Side) -> Lateral:
    """Return what one dowel carries between two equal side members, both planes together [lbf].

    Im D lm Fem/Rd; Is 2 D ls Fes/Rd; IIIs 2 k3 D ls Fem/((2+Re) Rd); IV 2 D^2/Rd sqrt(2 Fem Fyb/(3 (1+Re))).

    Args: side: the thinner of the side members
    Source: NDS 2018 Table 12.3.1A
    """
    d, fyb, ls = dowel.diameter, dowel.fyb_psi, side.bearing_length
    fem, fes = main.fe_psi, side.fe_psi
    re = fem / fes
    r1, _, r3 = _reductions(dowel, main, side)
    return Lateral(
        modes={
            "Im": d * main.bearing_length * fem / r1,
            "Is": 2 * d * ls * fes / r1,
            "IIIs": 2 * _k3(dowel, fem=fem, re=re, ls=ls) * d * ls * fem / ((2 + re) * r3),
            "IV": 2 * d**2 / r3 * sqrt(2 * fem * fyb / (3 * (1 + re))),
        }
    )


def _k3(dowel: Dowel, *, fem: float, re: float, ls: float) -> float:
    bend = 2 * dowel.fyb_psi * (2 + re) * dowel.diameter**2 / (3 * fem * ls**2)
    return -1 + sqrt(2 * (1 + re) / re + bend)


def _reductions(dowel: Dowel, main: Side, side: Side) -> tuple[float, float, float]:
    """Return Rd of modes I, of mode II, of modes III and IV (NDS Table 12.3.1B)."""
    kt = 1.0 + max(main.angle_deg, side.angle_deg) / 360.0
    if dowel.diameter >= LARGE:
        return 4.0 * kt, 3.6 * kt, 3.2 * kt
    kd = 2.2 if dowel.diameter <= 0.17 else 10.0 * dowel.diameter + 0.5
    # footnote 1: a screw of 1/4 in or more whose root is thinner takes KD times K theta
    rd = kd * (kt if dowel.nominal >= LARGE else 1.0)
    return rd, rd, rd


def _enough_penetration(dowel: Dowel, main: Side) -> None:
    least = LEAST_PENETRATION.get(dowel.kind, 0.0) * dowel.nominal
    if main.bearing_length < least - 1e-9:
        raise refuse(
            f"a {dowel.kind} of {dowel.nominal:g} in needs {least:g} in in the main member and has "
            f"{main.bearing_length:g} in"
        )


def fastener_spacing(z_adjusted_lbf: float, *, load_psf: float, joist_span_ft: float) -> float:
    """Return the spacing of ledger fasteners whose value is known: 12 Z' / (w L / 2) [in].

    For your engineer: the code's own ledger table rests on tests, not on these equations.
    """
    need_positive(z_adjusted_lbf=z_adjusted_lbf)
    return 12.0 * z_adjusted_lbf / ledger_line_load(load_psf, joist_span_ft=joist_span_ft)


def ledger_line_load(load_psf: float, *, joist_span_ft: float) -> float:
    """Return w L / 2, what the joists bring to a ledger [lbf/ft]."""
    need_positive(load_psf=load_psf, joist_span_ft=joist_span_ft)
    return load_psf * joist_span_ft / 2.0
