"""Yield-limit equations: what one dowel carries across a joint, in every mode, with the governing one named.

Single shear takes the general form of AWC Technical Report 12, Table 1-1, which knows a gap between the
members (from memory; its example 3.1 gives the six modes without a gap). Without a gap it is NDS 2018 Table
12.3.1A, whose symbols it keeps. Reduction terms: NDS 2018 Table 12.3.1B.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

from sillwright.structure.dowels import LARGE, Dowel, Side
from sillwright.structure.given import need_not_negative, need_positive
from sillwright.structure.tables import refuse

LEAST_PENETRATION = {"lag screw": 4.0, "wood screw": 6.0, "nail": 6.0}
"""Least penetration of the main member in diameters (NDS 12.1.4.6, 12.1.5.6, 12.1.6.5)."""
MODES = {
    "Im": "the main member is crushed",
    "Is": "the side member is crushed",
    "II": "the fastener turns as a whole and crushes both at their faces",
    "IIIm": "the fastener bends once and the main member is crushed",
    "IIIs": "the fastener bends once and the side member is crushed",
    "IV": "the fastener bends twice",
}
"""What gives way in each mode. Source: NDS 2018, appendix I (in our words)."""


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


def single_shear(dowel: Dowel, *, main: Side, side: Side, gap: float = 0.0) -> Lateral:
    """Return what one dowel carries in one shear plane [lbf].

    Im qm lm/Rd; Is qs ls/Rd; the others (-B + sqrt(B^2 - 4 A C))/(2 A Rd), with q = Fe D, M = Fyb D^3/6:
    II A = 1/4qs + 1/4qm, B = ls/2 + g + lm/2, C = -qs ls^2/4 - qm lm^2/4;
    IIIm A = 1/2qs + 1/4qm, B = g + lm/2, C = -M - qm lm^2/4;
    IIIs A = 1/4qs + 1/2qm, B = ls/2 + g, C = -qs ls^2/4 - M; IV A = 1/2qs + 1/2qm, B = g, C = -2 M.

    Args:   gap g: between the members, bearing in which is left out [in]
    Raises: OutOfRange: penetration of the main member under the least the standard gives
    Source: AWC TR 12 Table 1-1; with no gap NDS 2018 Table 12.3.1A
    """
    need_not_negative(gap=gap)
    need_penetration(dowel, main.bearing_length)
    r1, r2, r3 = reductions(dowel, main, side)
    return Lateral(
        modes={
            "Im": _crushed(dowel, main) / r1,
            "Is": _crushed(dowel, side) / r1,
            "II": _turned(dowel, main, side, gap) / r2,
            "IIIm": _bent_once(dowel, bears=main, holds=side, gap=gap) / r3,
            "IIIs": _bent_once(dowel, bears=side, holds=main, gap=gap) / r3,
            "IV": _bent_twice(dowel, main, side, gap) / r3,
        }
    )


def double_shear(dowel: Dowel, *, main: Side, side: Side) -> Lateral:
    """Return what one dowel carries between two equal side members, both planes together [lbf].

    Im as in single shear; Is, IIIs and IV twice that.

    Args: side: the thinner of the side members
    Source: NDS 2018 Table 12.3.1A
    """
    r1, _, r3 = reductions(dowel, main, side)
    return Lateral(
        modes={
            "Im": _crushed(dowel, main) / r1,
            "Is": 2 * _crushed(dowel, side) / r1,
            "IIIs": 2 * _bent_once(dowel, bears=side, holds=main, gap=0.0) / r3,
            "IV": 2 * _bent_twice(dowel, main, side, 0.0) / r3,
        }
    )


def _crushed(dowel: Dowel, member: Side) -> float:
    return member.fe_psi * dowel.diameter * member.bearing_length


def _turned(dowel: Dowel, main: Side, side: Side, gap: float) -> float:
    qm, qs = main.fe_psi * dowel.diameter, side.fe_psi * dowel.diameter
    lm, ls = main.bearing_length, side.bearing_length
    return _root(1 / (4 * qs) + 1 / (4 * qm), ls / 2 + gap + lm / 2, -qs * ls**2 / 4 - qm * lm**2 / 4)


def _bent_once(dowel: Dowel, *, bears: Side, holds: Side, gap: float) -> float:
    """Return the load at which the dowel bends in the member that holds it and crushes the other."""
    q, other, length = bears.fe_psi * dowel.diameter, holds.fe_psi * dowel.diameter, bears.bearing_length
    return _root(1 / (4 * q) + 1 / (2 * other), length / 2 + gap, -q * length**2 / 4 - _bending(dowel))


def _bent_twice(dowel: Dowel, main: Side, side: Side, gap: float) -> float:
    qm, qs = main.fe_psi * dowel.diameter, side.fe_psi * dowel.diameter
    return _root(1 / (2 * qs) + 1 / (2 * qm), gap, -2 * _bending(dowel))


def _bending(dowel: Dowel) -> float:
    return dowel.fyb_psi * dowel.diameter**3 / 6


def _root(a: float, b: float, c: float) -> float:
    return (-b + sqrt(b**2 - 4 * a * c)) / (2 * a)


def reductions(dowel: Dowel, main: Side, side: Side) -> tuple[float, float, float]:
    """Return Rd of modes I, of mode II, of modes III and IV (NDS Table 12.3.1B)."""
    kt = 1.0 + max(main.angle_deg, side.angle_deg) / 360.0
    if dowel.diameter >= LARGE:
        return 4.0 * kt, 3.6 * kt, 3.2 * kt
    kd = 2.2 if dowel.diameter <= 0.17 else 10.0 * dowel.diameter + 0.5
    # footnote 1: a screw of 1/4 in or more whose root is thinner takes KD times K theta
    rd = kd * (kt if dowel.nominal >= LARGE else 1.0)
    return rd, rd, rd


def least_penetration(dowel: Dowel) -> float:
    """Return how far a screw or nail must stand in the member that holds its point [in]; 0 for a bolt."""
    return LEAST_PENETRATION.get(dowel.kind, 0.0) * dowel.nominal


def need_penetration(dowel: Dowel, reach: float, *, where: str = "main member") -> None:
    """Refuse a screw or nail that stands less far in the member that holds its point than the standard asks.

    Raises: OutOfRange: it does; names both lengths
    """
    least = least_penetration(dowel)
    if reach < least - 1e-9:
        raise refuse(
            f"a {dowel.kind} of {dowel.nominal:g} in needs {least:g} in of hold in the {where} and has "
            f"{reach:g} in"
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
