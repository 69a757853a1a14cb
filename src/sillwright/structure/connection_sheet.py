"""Any connection by calculation, value by value: bearing, modes, distances, factors, row, pull, loads.

For your engineer. Source: NDS 2018 11.3, 12.1 to 12.5; AWC TR 12 where a gap lies between the members.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, degrees, hypot

from sillwright.structure.connection import (
    ACROSS,
    ALONG,
    Connection,
    ConnectionValue,
    Joined,
    Place,
    connection_value,
    row_of,
)
from sillwright.structure.connection_factors import WET_DOWEL, WOOD_TO_METAL, WOOD_TO_WOOD
from sillwright.structure.dowels import LARGE
from sillwright.structure.fastener_sheet import Names, adjusted_value, mode_values, pull_values
from sillwright.structure.given import need_positive
from sillwright.structure.tables import refuse
from sillwright.structure.timber import DURATIONS, wood
from sillwright.structure.withdrawal import combined_value
from sillwright.structure.worked import Input, Sheet, Worked, inputs
from sillwright.structure.yield_limit import least_penetration

NAMES = Names()
_PLACES = {
    "main-end": "to the main member's end",
    "main-edge": "to the main member's edge",
    "side-end": "to the side member's end",
    "side-edge": "to the side member's edge",
    "spacing": "between fasteners in the row",
}
_GEOMETRY = "NDS 2018 12.5.1, Tables 12.5.1A to 12.5.1C (from memory)"
NOT_CHECKED = (
    "not checked: the members themselves at the holes (net section, tear-out of rows and groups, splitting "
    "across the grain), plates, washers and the steel of the fastener"
)
MADE = (
    "one row along the load; an edge away from it at least 1.5 diameters off; fasteners square to the face, "
    "in side grain, in holes bored as the standard has them; not above 100 °F"
)
DRY = (
    "dry: wood that is dry when it is put together and stays so; wet wood that dries afterwards may take 0.4"
)
TIP = "the tapered tip of a screw is left out of its penetration and thread, and its root taken all along"
THROUGH = "bolts go through with nut and washers, their full shank in the planes of shear"
ALIKE = "two side members alike; the value is that of both planes together"
THIN = "under 1/4 in the standard has no distances and no factor for them: so far apart that no wood splits"


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectionCase:
    """A connection to be calculated, with the loads that it is held against."""

    joint: Connection
    load_lbf: float | None = None
    """On each fastener, across it; None: not stated."""
    pull_lbf: float | None = None
    """On each fastener, along it."""

    def __post_init__(self) -> None:
        given = {"load": self.load_lbf, "pull": self.pull_lbf}
        need_positive(**{name: value for name, value in given.items() if value is not None})


def connection_sheet(case: ConnectionCase) -> Sheet:
    """Return a connection by calculation.

    Raises: BadInput: what a row needs is not stated; OutOfRange: outside what the equations hold for
    """
    joint = case.joint
    if case.pull_lbf is not None:
        _may_be_pulled(joint)
    found = connection_value(joint)
    values = [*_bearing(joint), *_penetration(joint), *_distances(found)]
    main, side = joint.sides
    values += mode_values(
        joint.dowel, found.reference, main=main, side=side, names=NAMES, gap=joint.gap, double=joint.double
    )
    values += [*_factors(joint, found), *_adjusted(joint, found), *_pull(joint)]
    demands = list(_demands(case, values))
    return Sheet(
        subject="each fastener",
        values=(*values, *demands),
        main="z",
        phrase="at most {} in shear",
        governs=f"mode-{found.reference.mode}",
        verdict=_verdict(found, demands),
        taken=tuple(_taken(joint)),
    )


def _may_be_pulled(joint: Connection) -> None:
    if joint.dowel.kind == "bolt":
        raise refuse("the pull on a bolt goes by its washers and its steel, which are not held here")
    if joint.double:
        raise refuse("pull is held for 1 plane of shear, not for double shear")
    if joint.thread <= 0.0:
        raise refuse("0 in of thread lie in the main member, and pull needs some")


def _verdict(found: ConnectionValue, demands: list[Worked]) -> str:
    mode = found.reference.mode
    said = f"mode {mode} governs: {NAMES.gives_way(mode)}"
    uses = [each.use for each in demands if each.use is not None]
    if not uses:
        return said
    worst = max(uses)
    return f"{said}; used at {100.0 * worst:.0f}%" + ("" if worst <= 1.0 + 1e-9 else ": too much")


def _taken(joint: Connection) -> Iterator[str]:
    yield THROUGH if joint.dowel.kind == "bolt" else TIP
    if joint.double:
        yield ALIKE
    if joint.dowel.nominal < LARGE:
        yield THIN
    if not joint.wet:
        yield DRY
    yield MADE
    yield NOT_CHECKED


def _bearing(joint: Connection) -> Iterator[Worked]:
    for key, member in (("main", joint.main), ("side", joint.side)):
        formula, given, source = _bearing_of(joint, member)
        yield Worked(
            key=f"fe-{key}",
            what=f"how hard the {key} member bears, {_grain(member)}",
            formula=formula,
            inputs=given,
            value=member.bearing(joint.dowel),
            unit="psi",
            source=source,
        )


def _bearing_of(joint: Connection, member: Joined) -> tuple[str, tuple[Input, ...], str]:
    d, g = joint.dowel.nominal, member.gravity
    if g is None:
        thick = inputs(("thickness", member.thickness, "in"))
        return "Fe of A653 grade 33 sheet under 1/4 in, of A36 plate", thick, "NDS 2018 12.3.3, appendix I"
    name = f"G, {wood(member.species)}" if member.species else "G"
    source = "NDS 2018 12.3.3, Tables 12.3.3 and 12.3.3A"
    if d < LARGE:
        return "Fe = 16600 G^1.84", inputs((name, g, "")), source
    given = [(name, g, ""), ("D", d, "in")]
    along, across = "11200 G", "6100 G^1.45 / √D"
    if member.angle_deg == ALONG:
        return f"Fe = {along}", inputs(given[0]), source
    if member.angle_deg == ACROSS:
        return f"Fe = {across}", inputs(*given), source
    formula = f"Fe = a b / (a sin² θ + b cos² θ); a = {along}, b = {across}"
    return formula, inputs(*given, ("θ", member.angle_deg, "degrees")), f"{source}; 12.3.4"


def _grain(member: Joined) -> str:
    if member.steel:
        return "of steel"
    if member.angle_deg in (ALONG, ACROSS):
        return f"the load {'along' if member.angle_deg == ALONG else 'across'} its grain"
    return f"the load at {member.angle_deg:g} degrees to its grain"


def _penetration(joint: Connection) -> Iterator[Worked]:
    if joint.length is None:
        return
    holds = "far side member" if joint.double else "main member"
    before = [("ls", joint.side.thickness, "in"), ("g, between", joint.gap, "in")]
    if joint.double:
        before[1] = ("lm", joint.main.thickness, "in")
    yield Worked(
        key="penetration",
        what=f"penetration into the {holds}, without the tapered tip",
        formula=f"L − ls − {'lm' if joint.double else 'g'} − E, at most the {holds}",
        inputs=inputs(
            (f"L, {joint.dowel.kind}", joint.length, "in"),
            *before,
            ("E, tip", joint.dowel.tip, "in"),
            (holds, joint.holds.thickness, "in"),
        ),
        value=joint.reach,
        unit="in",
        limit=least_penetration(joint.dowel),
        at_least=True,
        source="NDS 2018 12.1.4.6: lag screws at least 4 D; 12.1.5.6: wood screws 6 D; tip: from memory",
    )


def _distances(found: ConnectionValue) -> Iterator[Worked]:
    for place in found.places:
        taken = "" if place.said else ", not stated and taken as enough"
        full = "takes nothing off" if place.full is None else "C∆ = distance / full distance, at most 1"
        yield Worked(
            key=place.key,
            what=_PLACES[place.key] + taken,
            formula=full,
            inputs=_place_inputs(place),
            value=place.distance,
            unit="in",
            limit=place.least,
            at_least=True,
            source=_GEOMETRY,
        )


def _place_inputs(place: Place) -> tuple[Input, ...]:
    least = ("least", place.least, "in")
    if place.full is None:
        return inputs(least)
    return inputs(least, ("full", place.full, "in"), ("C∆", place.factor, ""))


def _factors(joint: Connection, found: ConnectionValue) -> Iterator[Worked]:
    words = joint.duration.replace("_", " ")
    yield _factor("duration", "CD, duration of load", f"CD of {words}", DURATIONS[joint.duration], "2.3.2")
    wet = "wet in service" if joint.wet else "dry in service"
    yield _factor("moisture", "CM, moisture", f"CM {wet}", WET_DOWEL if joint.wet else 1.0, "11.3.3")
    row = row_of(joint)
    if row is None:
        why = "one fastener in the row" if joint.count == 1 else "fasteners under 1/4 in"
        formula, given = f"Cg = 1: {why}", inputs(("n", float(joint.count), ""))
    else:
        formula = (
            "Cg = m (1 − m²ⁿ) / (n ((1 + R mⁿ)(1 + m) − 1 + m²ⁿ)) × (1 + R) / (1 − m); "
            "u = 1 + g s/2 (1/EmAm + 1/EsAs), m = u − √(u² − 1)"
        )
        slip = (WOOD_TO_METAL if row.metal_side else WOOD_TO_WOOD) * row.diameter**1.5
        given = inputs(
            ("n", float(row.count), ""),
            ("s", row.spacing, "in"),
            ("g", slip, "lbf/in"),
            ("EmAm", row.stiffness_main_lbf, "lbf"),
            ("EsAs", row.stiffness_side_lbf, "lbf"),
        )
    yield Worked(
        key="group",
        what="Cg, group action",
        formula=formula,
        inputs=given,
        value=found.group,
        unit="",
        source="NDS 2018 11.3.6, No. 2 stiffness; across the grain a row is 3 D wide (from memory)",
    )
    yield Worked(
        key="geometry",
        what="C∆, ends and spacing",
        formula="C∆ = the least of the distances'",
        inputs=inputs(*((_PLACES[each.key], each.factor, "") for each in found.places if each.full)),
        value=found.geometry,
        unit="",
        source=_GEOMETRY,
    )


def _factor(key: str, what: str, formula: str, value: float, table: str) -> Worked:
    source = f"NDS 2018 Table {table} (from memory)"
    return Worked(key=key, what=what, formula=formula, inputs=(), value=value, unit="", source=source)


def _adjusted(joint: Connection, found: ConnectionValue) -> Iterator[Worked]:
    yield adjusted_value(
        found.reference,
        found.adjusted_lbf,
        duration=joint.duration,
        wet=joint.wet,
        group=found.group,
        geometry=found.geometry,
    )
    if joint.count > 1:
        yield Worked(
            key="row",
            what="the row together",
            formula="n Z'",
            inputs=inputs(("n", float(joint.count), ""), ("Z'", found.adjusted_lbf, "lbf")),
            value=joint.count * found.adjusted_lbf,
            unit="lbf",
            source="statics",
        )


def _pull(joint: Connection) -> Iterator[Worked]:
    if joint.length is None or joint.double or joint.main.gravity is None:
        return
    yield from pull_values(
        joint.dowel,
        specific_gravity=joint.main.gravity,
        thread=joint.thread,
        duration=joint.duration,
        wet=joint.wet,
        where=NAMES.main,
    )


def _demands(case: ConnectionCase, values: list[Worked]) -> Iterator[Worked]:
    """Yield the loads against what each fastener takes, and shear and pull together."""
    by_key = {each.key: each.value for each in values}
    load, pull = case.load_lbf, case.pull_lbf
    for key, what, value, of, symbol in (
        ("load", "load across", load, "z", "Z'"),
        ("pull", "pull along", pull, "withdrawal", "W'"),
    ):
        if value is not None:
            yield Worked(
                key=key,
                what=f"{what} each fastener",
                formula=f"at most {symbol}",
                inputs=(),
                value=value,
                unit="lbf",
                limit=by_key[of],
                source="as stated",
            )
    if load is None or pull is None:
        return
    angle = degrees(atan2(pull, load))
    yield Worked(
        key="combined",
        what="load and pull together",
        formula="√(load² + pull²), at most Z'α = W' Z' / (W' cos² α + Z' sin² α)",
        inputs=inputs(
            ("W'", by_key["withdrawal"], "lbf"), ("Z'", by_key["z"], "lbf"), ("α", angle, "degrees")
        ),
        value=hypot(load, pull),
        unit="lbf",
        limit=combined_value(by_key["withdrawal"], z_adjusted_lbf=by_key["z"], angle_deg=angle),
        source="NDS 2018 12.4.1",
    )
