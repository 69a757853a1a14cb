"""Posts and what stands under them, by calculation: column capacity, footing size.

For your engineer. Sources: NDS 2018 3.6.3, 3.7; IRC 2018 R507.3 (footing side from area and soil).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from sillwright.errors import OutOfRange
from sillwright.structure.given import need_not_negative, need_one_of, need_positive
from sillwright.structure.tables import load_table, select
from sillwright.structure.timber import (
    DURATIONS,
    Service,
    adjusted,
    compression_value,
    section,
    species_known,
)

MAX_COLUMN_SLENDERNESS = 50.0
"""le / d may not pass this in service (NDS 3.7.1.4)."""
SAWN_C = 0.8
TIMBER_WET_FC = 0.91
"""Wet service factor of Fc of posts and timbers (NDS Supplement Table 4D, from memory); E is not reduced."""
TIMBERS = ("6x6", "8x8")
CONCRETE_PCF = 150.0
LEAST_FOOTING = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """What a post carries, and why not more."""

    capacity_lbf: float
    column_factor: float
    slenderness: float
    fc_star_psi: float
    e_min_psi: float
    source: str
    note: str


def column_factor(fc_star_psi: float, *, e_min_psi: float, slenderness: float) -> float:
    """Return CP = (1+F)/2c - sqrt(((1+F)/2c)^2 - F/c), F = FcE/Fc*, FcE = 0.822 Emin'/(le/d)^2, c = 0.8.

    Raises: OutOfRange: le / d above 50
    Source: NDS 2018 3.7.1
    """
    need_positive(fc_star_psi=fc_star_psi, e_min_psi=e_min_psi, slenderness=slenderness)
    if slenderness > MAX_COLUMN_SLENDERNESS:
        raise OutOfRange(f"outside this rule: needs an engineer; le / d of {slenderness:.1f} is more than 50")
    ratio = 0.822 * e_min_psi / slenderness**2 / fc_star_psi
    half = (1.0 + ratio) / (2.0 * SAWN_C)
    return half - sqrt(half**2 - ratio / SAWN_C)


def post_capacity(size: str, *, species: str, height: float, service: Service) -> Column:
    """Return the axial load a post carries, pinned at both ends, not braced between [lbf].

    P = Fc* CP A, le = height, d the lesser side.

    Args: size: 4x4 to 8x8; height: [in]
    Raises: BadInput: size or species not known, height not above 0; OutOfRange: too slender
    """
    need_positive(height=height)
    post = section(size)
    fc_star, e_min, source = (
        _timber_values(species, service) if size in TIMBERS else _lumber_values(size, species, service)
    )
    ratio = height / min(post.breadth, post.depth)
    cp = column_factor(fc_star, e_min_psi=e_min, slenderness=ratio)
    return Column(
        capacity_lbf=fc_star * cp * post.area,
        column_factor=cp,
        slenderness=ratio,
        fc_star_psi=fc_star,
        e_min_psi=e_min,
        source=source,
        note="for your engineer; load on the axis of the post, no bending, no guard post at its top",
    )


def post_species(size: str) -> tuple[str, ...]:
    """Return the woods with design values for posts of a size."""
    timbers = tuple(row["species"] for row in load_table("timbers").rows)
    return timbers if size in TIMBERS else species_known()


def _lumber_values(size: str, species: str, service: Service) -> tuple[float, float, str]:
    strength = adjusted(species, size=size, service=service)
    source = f"{strength.source}; Fc from memory"
    return compression_value(species, size=size, service=service), strength.e_min_psi, source


def _timber_values(species: str, service: Service) -> tuple[float, float, str]:
    table = load_table("timbers")
    need_one_of([row["species"] for row in table.rows], species=species)
    row = select(table, species=species)[0]
    wet = TIMBER_WET_FC if service.wet else 1.0
    fc_star = float(row["fc_psi"]) * DURATIONS[service.duration] * wet
    return fc_star, float(row["e_min_psi"]), f"{table.source} (from memory)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Footing:
    """Plan size of a footing from load and soil [in, ft2]."""

    area_sqft: float
    side: float
    diameter: float


def footing(load_lbf: float, *, soil_psf: float, thickness: float = 0.0) -> Footing:
    """Return the footing that spreads a load on the soil, at least 12 in square.

    A = P / (q - 150 pcf t); with thickness 0 the weight of the footing is left out, as IRC 2018
    Table R507.3.1 does (its sides follow to the inch); DCA 6 counts it.

    Args: load_lbf: on the footing; soil_psf: allowable bearing q; thickness t: [in]
    Raises: BadInput: a value that cannot be; OutOfRange: the soil does not even carry the footing
    """
    need_positive(load_lbf=load_lbf, soil_psf=soil_psf)
    need_not_negative(thickness=thickness)
    net = soil_psf - CONCRETE_PCF * thickness / 12.0
    if net <= 0.0:
        raise OutOfRange(
            f"a footing {thickness:g} in thick weighs as much as {soil_psf:g} psf of soil carries"
        )
    area = load_lbf / net
    side = max(LEAST_FOOTING, 12.0 * sqrt(area))
    return Footing(area_sqft=area, side=side, diameter=2.0 * side / sqrt(pi))
