"""What each fastener of any connection carries: shear planes, members, row, distances, duration, moisture.

For your engineer. Answers for one row of equal bolts, lag screws or wood screws along the load, in single or
double shear; refuses what the equations do not cover and names the bound.
Source: NDS 2018 11.3, 12.1 to 12.5; AWC TR 12 where a gap lies between the members.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians, sin

from sillwright.errors import BadInput, Fault
from sillwright.structure.connection_factors import (
    FULL_AND_LEAST,
    FastenerRow,
    adjusted_lateral,
    edge_distance,
    geometry_factor,
    group_action,
    need_edge,
)
from sillwright.structure.dowels import (
    GAUGE_STEEL_FE_PSI,
    LARGE,
    PLATE_STEEL_FE_PSI,
    Dowel,
    Side,
    bearing_strength,
    lag_penetration,
    thread_in_main,
)
from sillwright.structure.given import need_not_negative, need_positive
from sillwright.structure.tables import refuse
from sillwright.structure.timber import elasticity, species_known, wood
from sillwright.structure.yield_limit import Lateral, double_shear, need_penetration, single_shear

ALONG, ACROSS = 0.0, 90.0
THINNEST_STEEL, PLATE = 0.036, 0.25
"""Steel members of NDS 2018 Tables 12B, 12K, 12M (the thinnest from memory) [in]."""
STEEL_E_PSI = 29e6
MOST_ACROSS = 5.0
"""Between the outer fasteners across the grain of a member (NDS 2018 12.5.1.3, from memory) [in]."""
HARDWOODS = ("red_oak",)
ROW_WIDTH = 3.0
"""Of a member loaded across its grain by one row, in diameters: least spacing along the grain (11.3.6, from
memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """A member of a connection; distances that are None are taken as enough."""

    thickness: float
    """[in]"""
    gravity: float | None
    """Specific gravity; None: steel."""
    species: str = ""
    """Empty: its gravity alone is known."""
    angle_deg: float = ACROSS
    """Between load and grain."""
    width: float | None = None
    """Of its face across the load, needed for a row of several [in]."""
    end: float | None = None
    """From the nearest fastener, along the grain [in]."""
    edge: float | None = None
    """From the nearest fastener: across the grain the edge toward which it bears [in]."""
    toward_end: bool = True
    """Loaded along its grain, the fastener bears toward the end."""

    def __post_init__(self) -> None:
        need_positive(thickness=self.thickness)
        if not self.steel:
            given = {"width": self.width, "end": self.end, "edge": self.edge}
            need_positive(**{name: value for name, value in given.items() if value is not None})

    @property
    def steel(self) -> bool:
        """Tell whether it is of steel."""
        return self.gravity is None

    @property
    def end_rule(self) -> str:
        """Return the rule of its end; at a slope that of tension along the grain, which asks most."""
        if self.angle_deg == ACROSS:
            return "end_across_grain"
        if self.angle_deg == ALONG and not self.toward_end:
            return "end_compression"
        return "end_tension_hardwood" if self.species in HARDWOODS else "end_tension_softwood"

    @property
    def edge_rule(self) -> str:
        """Return the rule of its edge."""
        return "along_grain" if self.angle_deg == ALONG else "loaded_across_grain"

    def bearing(self, dowel: Dowel) -> float:
        """Return its dowel bearing strength at the angle of load [psi]."""
        if self.gravity is None:
            return GAUGE_STEEL_FE_PSI if self.thickness < PLATE else PLATE_STEEL_FE_PSI
        return bearing_strength(self.gravity, diameter=dowel.nominal, angle_deg=self.angle_deg)


@dataclass(frozen=True, slots=True, kw_only=True)
class Connection:
    """One row of equal fasteners along the load through two or three members."""

    dowel: Dowel
    main: Joined
    """Holds the point of a screw; in double shear the one in the middle."""
    side: Joined
    """In double shear one of two alike."""
    double: bool = False
    length: float | None = None
    """Of a screw, head to tip [in]; None for bolts, which go through."""
    gap: float = 0.0
    """Between the members, bearing nothing [in]."""
    count: int = 1
    spacing: float | None = None
    """In the row [in]."""
    duration: str = "ten_years_live"
    wet: bool = True
    """Above 19 % moisture in service."""

    def __post_init__(self) -> None:
        need_positive(count=self.count)
        need_not_negative(gap=self.gap)
        if self.spacing is not None:
            need_positive(spacing=self.spacing)
        elif self.count > 1:
            raise BadInput(Fault("spacing", "a row of several has one.", "Say how far apart they are."))
        if self.dowel.kind != "bolt" and self.length is None:
            raise BadInput(Fault("length", "a screw has one.", "Give it from head to tip."))

    @property
    def face(self) -> float:
        """Return what a screw goes through before the member that holds its point [in]."""
        return self.side.thickness + self.gap + (self.main.thickness if self.double else 0.0)

    @property
    def holds(self) -> Joined:
        """Return the member that holds the point of a screw."""
        return self.side if self.double else self.main

    @property
    def reach(self) -> float:
        """Return how far the fastener bears in the member that holds its point, tip left out [in]."""
        if self.length is None:
            return self.holds.thickness
        return lag_penetration(
            self.length, ledger=self.face, gap=0.0, band=self.holds.thickness, tip=self.dowel.tip
        )

    @property
    def thread(self) -> float:
        """Return the thread in the member that holds the point; 0 for bolts and in double shear [in]."""
        if self.length is None or self.double:
            return 0.0
        return thread_in_main(self.dowel, length=self.length, face=self.face, main=self.main.thickness)

    @property
    def sides(self) -> tuple[Side, Side]:
        """Return main and side member as the equations see them."""
        lm, ls = self.main.thickness, self.side.thickness
        lm, ls = (lm, min(ls, self.reach)) if self.double else (min(lm, self.reach), ls)
        main, side = (
            Side(
                bearing_length=length,
                fe_psi=member.bearing(self.dowel),
                angle_deg=0.0 if member.steel else member.angle_deg,
            )
            for member, length in ((self.main, lm), (self.side, ls))
        )
        return main, side


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One distance of the fasteners, as it is or as it is taken."""

    key: str
    """main-end, side-edge, spacing and so on."""
    distance: float
    """[in]"""
    said: bool
    """Not taken as enough."""
    least: float
    full: float | None = None
    """For the full value; None: it takes nothing off."""
    factor: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectionValue:
    """What each fastener carries in shear, why not more, and what takes off."""

    reference: Lateral
    places: tuple[Place, ...]
    group: float
    geometry: float
    """C_delta: the least of the places."""
    adjusted_lbf: float


def connection_value(joint: Connection) -> ConnectionValue:
    """Return what each fastener of a connection carries in shear, all planes together [lbf].

    Raises: BadInput: a width or species that a row needs is not stated, duration not known
        OutOfRange: steel, gap, penetration, edge, end or spacing outside what the equations hold for
    """
    _in_scope(joint)
    main, side = joint.sides
    if joint.double:
        found = double_shear(joint.dowel, main=main, side=side)
    else:
        found = single_shear(joint.dowel, main=main, side=side, gap=joint.gap)
    places = tuple(_places(joint))
    group, geometry = group_of(joint), min((each.factor for each in places), default=1.0)
    return ConnectionValue(
        reference=found,
        places=places,
        group=group,
        geometry=geometry,
        adjusted_lbf=adjusted_lateral(
            found.z_lbf, duration=joint.duration, wet=joint.wet, group=group, geometry=geometry
        ),
    )


def _in_scope(joint: Connection) -> None:
    main, side, kind = joint.main, joint.side, joint.dowel.kind
    if main.steel and side.steel:
        raise refuse("between steel members the equations of the wood standard do not hold")
    for member in (main, side):
        if member.steel and not THINNEST_STEEL <= member.thickness <= PLATE:
            bound = f"between {THINNEST_STEEL:g} and {PLATE:g} in as in NDS 2018 Tables 12B, 12K, 12M"
            raise refuse(f"a steel member of {member.thickness:g} in is not {bound}")
    if joint.double and joint.gap > 0.0:
        raise refuse(f"a gap of {joint.gap:g} in is more than the 0 in that double shear is held for")
    _may_shrink(joint)
    if kind == "bolt":
        return
    where = "far side member" if joint.double else "main member"
    if joint.holds.steel:
        raise refuse(f"a {kind} holds in wood, and the {where} is of steel")
    need_penetration(joint.dowel, joint.reach, where=where)


def _may_shrink(joint: Connection) -> None:
    turned = max(0.0 if each.steel else each.angle_deg for each in (joint.main, joint.side))
    across = (joint.count - 1) * (joint.spacing or 0.0) * sin(radians(turned))
    if joint.dowel.nominal >= LARGE and across > MOST_ACROSS + 1e-9:
        raise refuse(
            f"a row of {across:g} in across the grain is more than the {MOST_ACROSS:g} in beyond which "
            "shrinking wood needs a detail of its own (NDS 2018 12.5.1.3, from memory)"
        )


def _places(joint: Connection) -> Iterator[Place]:
    """Yield every distance; under 1/4 in the standard has none."""
    d = joint.dowel.nominal
    if d < LARGE:
        return
    for name, member in (("main", joint.main), ("side", joint.side)):
        if not member.steel:
            yield _placed(f"{name}-end", member.end_rule, member.end, diameter=d)
            least = edge_distance(member.edge_rule, diameter=d)
            edge = least if member.edge is None else member.edge
            need_edge(member.edge_rule, edge, diameter=d)
            yield Place(key=f"{name}-edge", distance=edge, said=member.edge is not None, least=least)
    if joint.count > 1:
        yield _placed("spacing", "spacing_in_row", joint.spacing, diameter=d)


def _placed(key: str, rule: str, distance: float | None, *, diameter: float) -> Place:
    full, least = (times * diameter for times in FULL_AND_LEAST[rule])
    at = full if distance is None else distance
    return Place(
        key=key,
        distance=at,
        said=distance is not None,
        least=least,
        full=full,
        factor=geometry_factor(rule, distance=at, diameter=diameter),
    )


def row_of(joint: Connection) -> FastenerRow | None:
    """Return the row as group action sees it; None where it takes nothing off: one fastener, or a thin one.

    Source: NDS 2018 11.3.6; across the grain the width of a single row: from memory
    """
    d = joint.dowel.nominal
    if joint.count == 1 or d < LARGE or joint.spacing is None:
        return None
    return FastenerRow(
        count=joint.count,
        spacing=joint.spacing,
        diameter=d,
        stiffness_main_lbf=_stiffness("main", joint.main, diameter=d),
        stiffness_side_lbf=_stiffness("side", joint.side, diameter=d) * (2.0 if joint.double else 1.0),
        metal_side=joint.main.steel or joint.side.steel,
    )


def group_of(joint: Connection) -> float:
    """Return Cg of a connection's row."""
    row = row_of(joint)
    return 1.0 if row is None else group_action(row)


def _stiffness(name: str, member: Joined, *, diameter: float) -> float:
    """Return E A [lbf]."""
    across = not member.steel and member.angle_deg == ACROSS
    if not member.steel and member.angle_deg not in (ALONG, ACROSS):
        raise refuse(
            f"group action is held for loads at 0 or 90 degrees to the grain, not at {member.angle_deg:g}"
        )
    width = ROW_WIDTH * diameter if across else member.width
    faults = []
    if width is None:
        faults.append(Fault(f"{name}_width", "group action goes by it.", "Give the width across the load."))
    if not member.steel and member.species not in species_known():
        of = wood(member.species) if member.species else "a specific gravity alone"
        what = f"group action goes by the wood's stiffness, and none is held of {of}."
        faults.append(Fault(f"{name}_species", what, f"Held are {', '.join(map(wood, species_known()))}."))
    if faults or width is None:
        raise BadInput(*faults)
    return (STEEL_E_PSI if member.steel else elasticity(member.species)) * member.thickness * width
