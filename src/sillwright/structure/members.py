"""Joists, beams and headers by calculation: bending, shear, bearing, deflection, overhang.

For your engineer: these show the arithmetic; they are not a permission to build.
Sources: NDS 2018 3.3 to 3.5 and 3.10; AWC Design Aid 6 (beam formulas, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from sillwright.errors import OutOfRange
from sillwright.structure.given import need_not_negative, need_positive
from sillwright.structure.timber import Section, Strength

MAX_SLENDERNESS = 50.0
"""RB may not pass this (NDS 3.3.3.7)."""
_COEFFICIENT = 0.95


@dataclass(frozen=True, slots=True, kw_only=True)
class LineLoad:
    """A uniform load along a member [lbf/ft]."""

    live_plf: float
    dead_plf: float = 0.0

    def __post_init__(self) -> None:
        need_not_negative(live_plf=self.live_plf, dead_plf=self.dead_plf)
        need_positive(load_plf=self.total_plf)

    @property
    def total_plf(self) -> float:
        """Return live and dead together [lbf/ft]."""
        return self.live_plf + self.dead_plf


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """Demand against capacity of one limit state; the unit is in the name of the limit."""

    limit: str
    demand: float
    capacity: float
    unit: str

    @property
    def use(self) -> float:
        """Return demand over capacity; more than 1 does not do."""
        return self.demand / self.capacity


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberResult:
    """A member's checks, with the one that governs."""

    checks: tuple[Check, ...]

    @property
    def governing(self) -> Check:
        """Return the check with the greatest use."""
        return max(self.checks, key=lambda check: check.use)

    @property
    def passes(self) -> bool:
        """Tell whether no limit is passed."""
        return self.governing.use <= 1.0 + 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanLimits:
    """Greatest clear span by each limit state [in]."""

    bending: float
    shear: float
    deflection: float
    bearing: float

    @property
    def least(self) -> float:
        """Return the span that all limits allow [in]."""
        return min(self.bending, self.shear, self.deflection, self.bearing)

    @property
    def governing(self) -> str:
        """Return the limit state that sets it."""
        named = {name: getattr(self, name) for name in ("bending", "shear", "deflection", "bearing")}
        return min(named, key=lambda name: named[name])


def simple_span(
    member: Section,
    strength: Strength,
    *,
    span: float,
    load: LineLoad,
    bearing_length: float,
    deflection_ratio: float,
) -> MemberResult:
    """Check a simply supported member under a uniform load.

    M = w L^2 / 8; fb = M / S; fv = 1.5 V / A with V = w L / 2; fc_perp = R / (b lb);
    live deflection = 5 w L^4 / (384 E I) against L / ratio. Shear is taken at the support.

    Args: span, bearing_length: [in]; deflection_ratio: 360 for floors and decks
    Raises: BadInput: a size, span or ratio is not above 0
    """
    need_positive(span=span, bearing_length=bearing_length, deflection_ratio=deflection_ratio)
    w, live = load.total_plf / 12.0, load.live_plf / 12.0
    reaction = w * span / 2.0
    sag = 5.0 * live * span**4 / (384.0 * strength.e_psi * member.inertia)
    return MemberResult(
        checks=(
            Check(
                limit="bending",
                demand=w * span**2 / 8.0 / member.modulus,
                capacity=strength.fb_psi,
                unit="psi",
            ),
            Check(limit="shear", demand=1.5 * reaction / member.area, capacity=strength.fv_psi, unit="psi"),
            Check(
                limit="bearing",
                demand=reaction / (member.breadth * bearing_length),
                capacity=strength.fc_perp_psi,
                unit="psi",
            ),
            Check(limit="deflection", demand=sag, capacity=span / deflection_ratio, unit="in"),
        )
    )


def span_limits(
    member: Section,
    strength: Strength,
    *,
    load: LineLoad,
    bearing_length: float,
    deflection_ratio: float,
) -> SpanLimits:
    """Return the greatest simple span of a member by each limit state [in]; formulas as `simple_span`."""
    need_positive(bearing_length=bearing_length, deflection_ratio=deflection_ratio)
    w, live = load.total_plf / 12.0, load.live_plf / 12.0
    stiff = 384.0 * strength.e_psi * member.inertia
    return SpanLimits(
        bending=sqrt(8.0 * strength.fb_psi * member.modulus / w),
        shear=2.0 * strength.fv_psi * member.area / 1.5 / w,
        deflection=(stiff / (5.0 * deflection_ratio * live)) ** (1.0 / 3.0) if live else float("inf"),
        bearing=2.0 * strength.fc_perp_psi * member.breadth * bearing_length / w,
    )


def overhang(
    member: Section,
    strength: Strength,
    *,
    back_span: float,
    reach: float,
    load: LineLoad,
    tip_lbf: float = 0.0,
    deflection_ratio: float = 180.0,
) -> MemberResult:
    """Check the cantilevered end of a member that runs over its support.

    M = w a^2 / 2 + P a; V = w a + P; tip deflection of live load on the overhang only and of P:
    w a^3 (4 L + 3 a) / (24 E I) + P a^2 (L + a) / (3 E I), against 2 a / ratio.

    Args: back_span L, reach a: [in]; tip_lbf P: 220 lbf is what the deck joist table assumes
    Raises: OutOfRange: reach over a quarter of the back span (IRC 2018 R507.5, R507.6)
    """
    need_positive(back_span=back_span, reach=reach, deflection_ratio=deflection_ratio)
    need_not_negative(tip_lbf=tip_lbf)
    if reach > back_span / 4.0 + 1e-9:
        raise OutOfRange(
            f"outside this rule: needs an engineer; an overhang of {reach:g} in is more than a quarter "
            f"of the back span ({back_span / 4.0:g} in)"
        )
    w, live, a = load.total_plf / 12.0, load.live_plf / 12.0, reach
    ei = strength.e_psi * member.inertia
    sag = live * a**3 * (4.0 * back_span + 3.0 * a) / (24.0 * ei) + tip_lbf * a**2 * (back_span + a) / (
        3.0 * ei
    )
    moment, shear = w * a**2 / 2.0 + tip_lbf * a, w * a + tip_lbf
    return MemberResult(
        checks=(
            Check(limit="bending", demand=moment / member.modulus, capacity=strength.fb_psi, unit="psi"),
            Check(limit="shear", demand=1.5 * shear / member.area, capacity=strength.fv_psi, unit="psi"),
            Check(limit="deflection", demand=sag, capacity=2.0 * a / deflection_ratio, unit="in"),
        )
    )


def slenderness(member: Section, *, effective_length: float) -> float:
    """Return RB = sqrt(le d / b^2) (NDS 3.3.3.6).

    Raises: OutOfRange: RB above 50
    """
    need_positive(effective_length=effective_length)
    rb = sqrt(effective_length * member.depth / member.breadth**2)
    if rb > MAX_SLENDERNESS:
        raise OutOfRange(
            f"slenderness {rb:.1f} is more than {MAX_SLENDERNESS:g} (NDS 3.3.3.7): brace the member"
        )
    return rb


def effective_length(unsupported: float, *, depth: float) -> float:
    """Return le of a beam loaded at midspan, held at its ends only: 1.37 lu + 3 d (NDS Table 3.3.3) [in].

    Raises: OutOfRange: lu / d under 7, where another row of the table holds
    """
    need_positive(unsupported=unsupported, depth=depth)
    if unsupported / depth < 7.0:
        raise OutOfRange(
            f"lu / d of {unsupported / depth:.1f} is under 7: this row of NDS Table 3.3.3 does not hold"
        )
    return 1.37 * unsupported + 3.0 * depth


def effective_length_uniform(unsupported: float, *, depth: float) -> float:
    """Return le of a beam loaded all along, held at its ends only [in].

    2.06 lu, from lu / d = 7 on 1.63 lu + 3 d.

    Source: NDS 2018 Table 3.3.3, from memory
    """
    need_positive(unsupported=unsupported, depth=depth)
    return 2.06 * unsupported if unsupported / depth < 7.0 else 1.63 * unsupported + 3.0 * depth


def critical_buckling(e_min_psi: float, *, rb: float) -> float:
    """Return FbE = 1.2 Emin' / RB^2 (NDS 3.3.3.8) [psi]."""
    need_positive(e_min_psi=e_min_psi, rb=rb)
    return 1.2 * e_min_psi / rb**2


def beam_stability(fb_star_psi: float, *, fbe_psi: float) -> float:
    """Return CL = (1+F)/1.9 - sqrt(((1+F)/1.9)^2 - F/0.95), F = FbE / Fb* (NDS 3.3.3.8)."""
    need_positive(fb_star_psi=fb_star_psi, fbe_psi=fbe_psi)
    ratio = fbe_psi / fb_star_psi
    half = (1.0 + ratio) / (2.0 * _COEFFICIENT)
    return half - sqrt(half**2 - ratio / _COEFFICIENT)
