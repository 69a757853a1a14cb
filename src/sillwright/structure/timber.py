"""Lumber: sections by nominal size, design values, and what wet use, size and incising make of them.

Source: AWC NDS 2018 4.3 and its Supplement. Fb' = Fb CD CM CL CF Cr Ci; Fv' = Fv CD CM Ci;
E' = E CM Ci; Fc_perp' = Fc_perp CM Ci (no CD).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import prod

from sillwright.errors import BadInput, Fault, OutOfRange
from sillwright.structure.given import need_one_of, need_positive
from sillwright.structure.tables import Row, load_table, select

WET_FB, WET_FV, WET_FC_PERP, WET_E = 0.85, 0.97, 0.67, 0.90
WET_FC = 0.80
"""Wet service factors above 19 % moisture (NDS Supplement Table 4A; Fc from memory)."""
WET_FB_FREE_PSI = 1150.0
"""No reduction of Fb where Fb CF is not above this (same table) [psi]."""
WET_FC_FREE_PSI = 750.0
INCISED_F, INCISED_E, INCISED_FC_PERP = 0.80, 0.95, 1.00
"""Incising factors Ci (NDS Table 4.3.8, from memory)."""
REPETITIVE = 1.15
"""Cr: three or more members at most 24 in apart, joined by decking or sheathing (NDS 4.3.9)."""

DURATIONS = {
    "permanent": 0.9,
    "ten_years_live": 1.0,
    "two_months_snow": 1.15,
    "seven_days_construction": 1.25,
    "ten_minutes_wind": 1.6,
    "impact": 2.0,
}
"""Load duration factor CD (NDS 2018 Table 2.3.2, from memory)."""

SIZE_INSIDE = "yes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A rectangular member of one or more equal plies, upright."""

    breadth: float
    """Of all plies together [in]."""
    depth: float
    plies: int = 1
    size: str = ""
    """Nominal size of one ply, where it has one: `2x10`."""

    def __post_init__(self) -> None:
        need_positive(breadth=self.breadth, depth=self.depth, plies=self.plies)

    @property
    def area(self) -> float:
        """Return b d [in2]."""
        return self.breadth * self.depth

    @property
    def modulus(self) -> float:
        """Return S = b d^2 / 6 [in3]."""
        return self.breadth * self.depth**2 / 6.0

    @property
    def inertia(self) -> float:
        """Return I = b d^3 / 12 [in4]."""
        return self.breadth * self.depth**3 / 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """Design values of a member [psi], reference or adjusted."""

    fb_psi: float
    fv_psi: float
    fc_perp_psi: float
    e_psi: float
    e_min_psi: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """What a member lives through: duration of load, moisture, incising, company."""

    duration: str = "ten_years_live"
    wet: bool = False
    incised: bool = False
    repetitive: bool = False

    def __post_init__(self) -> None:
        need_one_of(DURATIONS, duration=self.duration)


@cache
def section(name: str) -> Section:
    """Return the dressed section of `2x10`, or `3-2x10` for three plies.

    Raises: BadInput: the size is not known
    """
    plies, _, size = name.rpartition("-")
    sizes = [row["size"] for row in load_table("sections").rows]
    need_one_of(sizes, size=size)
    if plies and not (plies.isdigit() and 1 <= int(plies) <= 6):
        raise BadInput(
            Fault("size", f"{name}: {plies!r} is not a number of plies.", "Write 2-2x10, for instance.")
        )
    row = select(load_table("sections"), size=size)[0]
    count = int(plies or 1)
    return Section(breadth=count * float(row["breadth"]), depth=float(row["depth"]), plies=count, size=size)


_WOODS = {
    "douglas_fir_larch": "Douglas fir-larch",
    "hem_fir": "hem-fir",
    "spruce_pine_fir": "spruce-pine-fir",
}


def wood(species: str) -> str:
    """Return a species as people write it."""
    return _WOODS.get(species, species.replace("_", " "))


def species_known() -> tuple[str, ...]:
    """Return the species with design values."""
    return tuple(dict.fromkeys(row["species"] for row in load_table("lumber").rows))


@cache
def _lumber(species: str, grade: str, size: str) -> Row:
    need_one_of(species_known(), species=species)
    table = load_table("lumber")
    rows = select(table, species=species, grade=grade)
    named = [row for row in rows if row["size"] in ("any", size)]
    return named[0] if named else select(table, rows, size=size)[0]


def reference_values(species: str, *, grade: str = "No.2", size: str) -> Strength:
    """Return the reference design values of dimension lumber [psi].

    Args: size: nominal size of one ply; southern pine holds one set for each
    Raises: BadInput: species not known; OutOfRange: grade or size not held
    Source: NDS Supplement 2018 Tables 4A, 4B
    """
    row = _lumber(species, grade, size)
    return Strength(
        fb_psi=float(row["fb_psi"]),
        fv_psi=float(row["fv_psi"]),
        fc_perp_psi=float(row["fc_perp_psi"]),
        e_psi=float(row["e_psi"]),
        e_min_psi=float(row["e_min_psi"]),
        source=load_table("lumber").source + (" (from memory)" if row["status"] == "memory" else ""),
    )


def elasticity(species: str, *, grade: str = "No.2") -> float:
    """Return the least reference modulus of elasticity of a species and grade, whatever its size [psi].

    Raises: BadInput: species without design values; OutOfRange: grade not held
    """
    need_one_of(species_known(), species=species)
    return min(float(row["e_psi"]) for row in select(load_table("lumber"), species=species, grade=grade))


def size_factor(species: str, *, grade: str = "No.2", size: str, use: str = "bending") -> float:
    """Return CF of a nominal size; 1 where it is inside the table value.

    Args: use: `bending` or `compression`
    Source: NDS Supplement Table 4A; southern pine carries its size inside (4B)
    """
    if _lumber(species, grade, size)["size_inside"] == SIZE_INSIDE:
        return 1.0
    return float(select(load_table("size_factors"), size=size)[0][use])


def adjusted(
    species: str, *, size: str, grade: str = "No.2", service: Service, stability: float = 1.0
) -> Strength:
    """Return the design values of a member adjusted for its use [psi].

    Args: stability: CL, 1 where the compression edge is held
    Raises: BadInput: species not known; OutOfRange: grade or size not held, or CL not in 0..1
    """
    ref = reference_values(species, grade=grade, size=size)
    by = factors(species, size=size, grade=grade, service=service, stability=stability)
    return Strength(
        fb_psi=ref.fb_psi * prod(by["fb"].values()),
        fv_psi=ref.fv_psi * prod(by["fv"].values()),
        fc_perp_psi=ref.fc_perp_psi * prod(by["fc_perp"].values()),
        e_psi=ref.e_psi * prod(by["e"].values()),
        e_min_psi=ref.e_min_psi * prod(by["e"].values()),
        source=ref.source,
    )


def factors(
    species: str, *, size: str, grade: str = "No.2", service: Service, stability: float = 1.0
) -> Mapping[str, Mapping[str, float]]:
    """Return the adjustment factors of each design value by their symbols: fb, fv, fc_perp, e.

    Args: stability: CL, 1 where the compression edge is held
    Raises: BadInput: species not known; OutOfRange: grade or size not held, or CL not in 0..1
    Source: NDS 2018 4.3; wet service from the Supplement's Table 4A
    """
    if not 0.0 < stability <= 1.0:
        raise OutOfRange(f"beam stability factor {stability:g} is not between 0 and 1")
    cf = size_factor(species, grade=grade, size=size)
    sized = reference_values(species, grade=grade, size=size).fb_psi * cf
    wet, cd = service.wet, DURATIONS[service.duration]
    ci_f, ci_e = (INCISED_F, INCISED_E) if service.incised else (1.0, 1.0)
    return {
        "fb": {
            "CD": cd,
            "CM": WET_FB if wet and sized > WET_FB_FREE_PSI else 1.0,
            "CL": stability,
            "CF": cf,
            "Ci": ci_f,
            "Cr": REPETITIVE if service.repetitive else 1.0,
        },
        "fv": {"CD": cd, "CM": WET_FV if wet else 1.0, "Ci": ci_f},
        "fc_perp": {"CM": WET_FC_PERP if wet else 1.0, "Ci": INCISED_FC_PERP},
        "e": {"CM": WET_E if wet else 1.0, "Ci": ci_e},
    }


def compression_value(species: str, *, grade: str = "No.2", size: str, service: Service) -> float:
    """Return Fc* = Fc CD CM CF Ci along the grain of dimension lumber, before the column factor [psi]."""
    factor = size_factor(species, grade=grade, size=size, use="compression")
    sized = float(_lumber(species, grade, size)["fc_psi"]) * factor
    wet = WET_FC if service.wet and sized > WET_FC_FREE_PSI else 1.0
    return sized * DURATIONS[service.duration] * wet * (INCISED_F if service.incised else 1.0)
