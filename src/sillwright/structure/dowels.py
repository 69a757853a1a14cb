"""Dowel fasteners and how wood bears them: bolts, lag screws, wood screws, nails; bearing strength.

Sources: NDS 2018 12.3.3, 12.3.4, Tables 12.3.1B and 12.3.3; appendix I and L.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import cos, radians, sin, sqrt

from sillwright.errors import OutOfRange
from sillwright.structure.given import need_one_of, need_positive
from sillwright.structure.tables import load_table, refuse, select

LARGE = 0.25
"""Nominal diameter from which bearing depends on the grain [in]."""
LARGEST = 1.0
BOLT_FYB_PSI = 45000.0
GAUGE_STEEL_FE_PSI, PLATE_STEEL_FE_PSI = 61850.0, 87000.0
"""Steel side members: ASTM A653 grade 33 sheet, 1/4 in A36 plate (NDS 12.3.3 and appendix I)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dowel:
    """A dowel in a shear plane."""

    kind: str
    """bolt, lag screw, wood screw or nail."""
    nominal: float
    """Shank diameter: bearing across the grain, geometry [in]."""
    diameter: float
    """Used in the yield equations: root of a lag or wood screw, shank of a bolt or nail [in]."""
    fyb_psi: float
    """Bending yield strength."""
    tip: float = 0.0
    """Length of the tapered tip, left out of penetration [in]."""

    def __post_init__(self) -> None:
        need_positive(nominal=self.nominal, diameter=self.diameter, fyb_psi=self.fyb_psi)
        if self.nominal > LARGEST:
            raise refuse(f"a dowel of {self.nominal:g} in is more than the 1 in of NDS Table 12.3.1B")


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """A member of the joint: how long the dowel bears in it, how hard it bears, how the load runs."""

    bearing_length: float
    """[in]"""
    fe_psi: float
    """Dowel bearing strength at the angle of load."""
    angle_deg: float = 0.0
    """Between load and grain; 0 for steel."""

    def __post_init__(self) -> None:
        need_positive(bearing_length=self.bearing_length, fe_psi=self.fe_psi)
        if not 0.0 <= self.angle_deg <= 90.0:
            raise OutOfRange(
                f"an angle of load to grain of {self.angle_deg:g} degrees is not between 0 and 90"
            )


@cache
def gravity(species: str) -> float:
    """Return the specific gravity for connections (NDS Table 12.3.3A).

    Raises: BadInput: species not known
    """
    table = load_table("gravity")
    need_one_of([row["species"] for row in table.rows], species=species)
    return float(select(table, species=species)[0]["gravity"])


def connection_species() -> tuple[str, ...]:
    """Return the species with a specific gravity for connections."""
    return tuple(row["species"] for row in load_table("gravity").rows)


def bearing_strength(specific_gravity: float, *, diameter: float, angle_deg: float = 0.0) -> float:
    """Return the dowel bearing strength of wood [psi], not rounded (the standard's tables round to 50 psi).

    D >= 1/4 in: along 11200 G, across 6100 G^1.45 / sqrt(D), between by Hankinson;
    under 1/4 in: 16600 G^1.84 at any angle.

    Args: specific_gravity G: 0.31 to 0.73, the range of NDS Table 12.3.3A; diameter D: nominal [in]
    Raises: OutOfRange: G or angle outside; BadInput: diameter not above 0
    Source: NDS 2018 12.3.3, 12.3.4, Table 12.3.3
    """
    need_positive(diameter=diameter)
    if not 0.31 <= specific_gravity <= 0.73:
        raise refuse(f"a specific gravity of {specific_gravity:g} is not between 0.31 and 0.73")
    if not 0.0 <= angle_deg <= 90.0:
        raise OutOfRange(f"an angle of load to grain of {angle_deg:g} degrees is not between 0 and 90")
    if diameter < LARGE:
        return float(16600.0 * specific_gravity**1.84)
    along = 11200.0 * specific_gravity
    across = 6100.0 * specific_gravity**1.45 / sqrt(diameter)
    return hankinson(along, across, angle_deg=angle_deg)


def hankinson(along: float, across: float, *, angle_deg: float) -> float:
    """Return the value between the grain directions: a b / (a sin^2 + b cos^2) (NDS 12.3.4)."""
    theta = radians(angle_deg)
    return along * across / (along * sin(theta) ** 2 + across * cos(theta) ** 2)


def lag_screw(diameter: float) -> Dowel:
    """Return a lag screw with reduced body, by nominal diameter [in].

    Raises: OutOfRange: the diameter is not in NDS appendix L as held
    """
    need_positive(diameter=diameter)
    row = select(load_table("lag_screws"), diameter=diameter)[0]
    return Dowel(
        kind="lag screw",
        nominal=diameter,
        diameter=float(row["root"]),
        fyb_psi=float(row["fyb_psi"]),
        tip=float(row["tip"]),
    )


def wood_screw(gauge: str) -> Dowel:
    """Return a cut-thread wood screw by gauge (`10`); the tapered tip is twice its diameter (NDS 12.1.5)."""
    row = select(load_table("wood_screws"), gauge=gauge)[0]
    shank = float(row["diameter"])
    return Dowel(
        kind="wood screw",
        nominal=shank,
        diameter=float(row["root"]),
        fyb_psi=float(row["fyb_psi"]),
        tip=2.0 * shank,
    )


def bolt(diameter: float) -> Dowel:
    """Return a bolt with its full shank in the shear planes [in].

    Raises: OutOfRange: under 1/4 in or over 1 in
    """
    need_positive(diameter=diameter)
    if diameter < LARGE:
        raise refuse(f"a bolt of {diameter:g} in is less than the 1/4 in of NDS Table 12A")
    return Dowel(kind="bolt", nominal=diameter, diameter=diameter, fyb_psi=BOLT_FYB_PSI)


def common_nail(diameter: float) -> Dowel:
    """Return a common nail by shank diameter: Fyb 100, 90, 80 ksi to 0.142, 0.177, 0.236 in (NDS Table I1).

    Raises: OutOfRange: thicker than 0.236 in or thinner than 0.099 in
    """
    need_positive(diameter=diameter)
    for limit, fyb in ((0.142, 100000.0), (0.177, 90000.0), (0.236, 80000.0)):
        if 0.099 <= diameter <= limit:
            return Dowel(kind="nail", nominal=diameter, diameter=diameter, fyb_psi=fyb, tip=2.0 * diameter)
    raise refuse(f"a nail of {diameter:g} in is not between 0.099 and 0.236 in")


def thread_length(length: float, *, tip: float) -> float:
    """Return the thread of a stock lag screw without its tip: min(L/2 + 1/2, 6, L) - E (appendix L) [in]."""
    need_positive(length=length)
    return min(length / 2.0 + 0.5, 6.0, length) - tip


def lag_penetration(length: float, *, ledger: float, gap: float, band: float, tip: float) -> float:
    """Return how far a lag screw stands in the wood behind a ledger, its tapered tip left out [in].

    L - ledger - gap - tip, at most the wood behind.

    Source: NDS 2018 12.1.4.6
    """
    need_positive(length=length, ledger=ledger, band=band)
    return max(0.0, min(length - ledger - gap - tip, band))


def lag_length(*, ledger: float, gap: float, band: float, tip: float) -> float:
    """Return the shortest lag screw, in steps of 1/2 in, whose tip comes out past the band joist [in].

    Source: IRC Table R507.9.1.3(1), footnote on the tip; stock steps: common practice, no source
    """
    need_positive(ledger=ledger, band=band)
    through = ledger + gap + band + tip
    return -(-through // 0.5) * 0.5


def thread_in_main(dowel: Dowel, *, length: float, face: float, main: float) -> float:
    """Return how much thread lies in the member that holds the point, tip left out [in].

    Args: face: all that lies before that member; main: its thickness [in]
    Source: NDS 2018 appendix L: stock lag screws; wood screws two thirds of their length (from memory)
    """
    need_positive(length=length, face=face, main=main)
    ends = length - dowel.tip
    thread = (
        thread_length(length, tip=dowel.tip) if dowel.kind == "lag screw" else 2.0 * length / 3.0 - dowel.tip
    )
    return max(0.0, min(ends, face + main) - max(ends - thread, face))
