"""A ledger's fasteners by calculation, value by value: bearing, penetration, distances, modes, factors, pull.

For your engineer. Source: NDS 2018 11.3, 12.1 to 12.5; AWC TR 12 where sheathing lies between.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from sillwright.errors import OutOfRange
from sillwright.structure.connection_factors import edge_distance, row_spacing
from sillwright.structure.dowels import (
    bolt,
    gravity,
    lag_length,
    lag_penetration,
    lag_screw,
    thread_in_main,
)
from sillwright.structure.fastener_sheet import Names, adjusted_value, mode_values, pull_values
from sillwright.structure.given import need_positive
from sillwright.structure.layout import Layout, LayoutRequest
from sillwright.structure.ledger import Distances, LedgerLoad
from sillwright.structure.ledger_joint import JointValue, LedgerJoint, joint_value
from sillwright.structure.timber import wood
from sillwright.structure.withdrawal import combined_value
from sillwright.structure.worked import Sheet, Worked, inputs
from sillwright.structure.yield_limit import fastener_spacing, least_penetration, ledger_line_load
from sillwright.structure.zones import band_at

LEDGER_DIAMETER = 0.5
"""Of ledger fasteners, as in the code's table [in]."""
DECK_DEAD_PSF = 10.0
"""Of the deck; inside the code's table."""
NAMES = Names(main="wood behind", side="ledger")
GEOMETRY = "NDS 2018 Tables 12.5.1C, 12.5.1D (from memory)"
TABLE_RESTS_ON_TESTS = (
    "the code's ledger table rests on tests of whole ledgers and may allow far more; do not mix the two"
)
LAG_TIP = "the tapered tip of a lag screw is left out of its penetration"
GAP = "what lies between ledger and band joist is counted as a gap that bears nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerPlaces:
    """The least distances of a ledger's fasteners as they stand, or as the code's table lets them [in]."""

    ledger_top: float
    ledger_bottom: float
    band_top: float
    band_bottom: float
    end: float
    nearest: float | None = None
    """Least distance of neighbours along the ledger; None: not laid out."""
    widest: float | None = None
    """Greatest distance of neighbours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerCase:
    """A ledger to be calculated."""

    joint: LedgerJoint
    load_psf: float
    """Live or snow, and dead."""
    joist_span_ft: float
    places: LedgerPlaces
    length: float | None = None
    """Of a lag screw, head to tip [in]; None for bolts."""

    def __post_init__(self) -> None:
        need_positive(load_psf=self.load_psf, joist_span_ft=self.joist_span_ft)


def least_places(in_ledger: Distances, in_band: Distances) -> LedgerPlaces:
    """Return the least distances that the code's table allows, for a ledger that is not laid out."""
    return LedgerPlaces(
        ledger_top=in_ledger.top_edge,
        ledger_bottom=in_ledger.bottom_edge,
        band_top=in_band.top_edge,
        band_bottom=in_band.bottom_edge,
        end=in_ledger.end_least,
    )


def laid_places(request: LayoutRequest, laid: Layout) -> LedgerPlaces:
    """Return the least distances of a ledger as it is laid out; it has at least one fastener."""
    ledger, each = request.ledger, laid.fasteners
    band = [band_at(request.band, one.x) for one in each]
    gaps = [b.x - a.x for a, b in pairwise(each)]
    return LedgerPlaces(
        ledger_top=min(ledger.top - one.z for one in each),
        ledger_bottom=min(one.z - (ledger.top - ledger.depth) for one in each),
        band_top=min(at.top - one.z for at, one in zip(band, each, strict=True)),
        band_bottom=min(one.z - at.bottom for at, one in zip(band, each, strict=True)),
        end=min(each[0].x, request.length - each[-1].x),
        nearest=min(gaps, default=None),
        widest=max(gaps, default=None),
    )


def ledger_sheets(
    load: LedgerLoad,
    *,
    ledger_species: str,
    backing_species: str,
    backing_thickness: float,
    places: LedgerPlaces,
) -> tuple[Sheet, ...]:
    """Return a ledger by calculation; where lag screws find too little wood, bolts of the same size as well.

    Args:    load: what hangs on it, through what; backing_thickness: of the wood behind [in]
    Raises:  BadInput: a species without a specific gravity for connections
    """
    lag = load.fastener == "lag"
    dowel = lag_screw(LEDGER_DIAMETER) if lag else bolt(LEDGER_DIAMETER)
    gap = load.sheathing + load.washers
    joint = LedgerJoint(
        dowel=dowel,
        ledger_species=ledger_species,
        backing_species=backing_species,
        backing_thickness=backing_thickness,
        gap=gap,
        loaded_edge=min(places.ledger_top, places.band_bottom),
        free_edge=min(places.ledger_bottom, places.band_top),
        end=places.end,
        duration="two_months_snow" if load.ground_snow_psf > load.live_psf else "ten_years_live",
    )
    long = lag_length(ledger=joint.ledger_thickness, gap=gap, band=backing_thickness, tip=dowel.tip)
    case = LedgerCase(
        joint=joint,
        load_psf=max(load.live_psf, load.ground_snow_psf) + DECK_DEAD_PSF,
        joist_span_ft=load.joist_span_ft,
        places=places,
        length=long if lag else None,
    )
    first = ledger_sheet(case)
    if not lag or not first.refused:
        return (first,)
    bolts = ledger_sheet(replace(case, joint=replace(joint, dowel=bolt(LEDGER_DIAMETER)), length=None))
    own = tuple(each for each in bolts.values if each not in first.values)
    return (first, replace(bolts, values=own))


def ledger_sheet(case: LedgerCase) -> Sheet:
    """Return a ledger by calculation; where the equations do not hold, what they still give and why they end.

    Raises:  BadInput: species or duration not known
    """
    subject = f"ledger on 1/2 in {case.joint.dowel.kind}s"
    values = [*_load(case), *_bearing(case.joint), *_penetration(case), *_distances(case)]
    pull = list(_pull(case))
    taken = (*((GAP,) if case.joint.gap else ()), *((LAG_TIP,) if case.length else ()), TABLE_RESTS_ON_TESTS)
    try:
        found = joint_value(case.joint)
    except OutOfRange as error:
        return Sheet(subject=subject, values=(*values, *pull), refused=str(error), taken=taken)
    values += [*_modes(case.joint, found), *_adjusted(case, found), *pull, *_both(pull, found)]
    return Sheet(
        subject=subject,
        values=tuple(values),
        main="spacing",
        phrase="at most {} on centre",
        governs=f"mode-{found.mode}",
        verdict=f"mode {found.mode} governs: {NAMES.gives_way(found.mode)}",
        taken=taken,
    )


def _load(case: LedgerCase) -> Iterator[Worked]:
    yield Worked(
        key="line-load",
        what="load on the ledger",
        formula="w L / 2",
        inputs=inputs(("w", case.load_psf, "psf"), ("L, span of the joists", case.joist_span_ft, "ft")),
        value=ledger_line_load(case.load_psf, joist_span_ft=case.joist_span_ft),
        unit="lbf/ft",
        source="statics",
    )


def _bearing(joint: LedgerJoint) -> Iterator[Worked]:
    for key, name, species, member in (
        ("fe-ledger", "the ledger", joint.ledger_species, joint.ledger),
        ("fe-band", "the wood behind", joint.backing_species, joint.backing),
    ):
        yield Worked(
            key=key,
            what=f"how hard {name} bears across its grain",
            formula="Fe = 6100 G^1.45 / √D",
            inputs=inputs((f"G, {wood(species)}", gravity(species), ""), ("D", joint.dowel.nominal, "in")),
            value=member.fe_psi,
            unit="psi",
            source="NDS 2018 12.3.3, Tables 12.3.3 and 12.3.3A",
        )


def _penetration(case: LedgerCase) -> Iterator[Worked]:
    joint = case.joint
    least = least_penetration(joint.dowel)
    if case.length is None or not least:
        return
    yield Worked(
        key="penetration",
        what="penetration into the wood behind, without the tapered tip",
        formula="L − ls − g − E, at most lm",
        inputs=inputs(
            ("L, lag screw", case.length, "in"),
            ("ls, ledger", joint.ledger_thickness, "in"),
            ("g, between", joint.gap, "in"),
            ("E, tip", joint.dowel.tip, "in"),
            ("lm, wood behind", joint.backing_thickness, "in"),
        ),
        value=lag_penetration(
            case.length,
            ledger=joint.ledger_thickness,
            gap=joint.gap,
            band=joint.backing_thickness,
            tip=joint.dowel.tip,
        ),
        unit="in",
        limit=least,
        at_least=True,
        source="NDS 2018 12.1.4.6: at least 4 D; tip: appendix L, from memory",
    )


def _distances(case: LedgerCase) -> Iterator[Worked]:
    d, places = case.joint.dowel.nominal, case.places
    loaded, free = "loaded_across_grain", "unloaded_across_grain"
    for key, what, value, rule in (
        ("ledger-top", "to the ledger's top, toward which the load bears", places.ledger_top, loaded),
        ("ledger-bottom", "to the ledger's underside", places.ledger_bottom, free),
        ("band-bottom", "to the band joist's underside, toward which it bears", places.band_bottom, loaded),
        ("band-top", "to the band joist's top", places.band_top, free),
    ):
        yield Worked(
            key=key,
            what=what,
            formula=f"at least {4.0 if rule == loaded else 1.5:g} D",
            inputs=inputs(("D", d, "in")),
            value=value,
            unit="in",
            limit=edge_distance(rule, diameter=d),
            at_least=True,
            source=GEOMETRY,
        )
    if places.nearest is not None:
        length = min(case.joint.ledger_thickness, case.joint.backing_thickness)
        yield Worked(
            key="rows",
            what="between neighbours along the ledger, each a row of its own",
            formula="at least 2.5 D, (5 l + 10 D) / 8 or 5 D, by l / D",
            inputs=inputs(("l, the shorter bearing", length, "in"), ("D", d, "in")),
            value=places.nearest,
            unit="in",
            limit=row_spacing(bearing_length=length, diameter=d),
            at_least=True,
            source=GEOMETRY,
        )


def _modes(joint: LedgerJoint, found: JointValue) -> Iterator[Worked]:
    return mode_values(
        joint.dowel, found.reference, main=joint.backing, side=joint.ledger, names=NAMES, gap=joint.gap
    )


def _adjusted(case: LedgerCase, found: JointValue) -> Iterator[Worked]:
    joint = case.joint
    yield Worked(
        key="group",
        what="group action: each fastener stands alone along the load",
        formula="Cg of a row of n = 1",
        inputs=inputs(("n", 1.0, "")),
        value=1.0,
        unit="",
        source="NDS 2018 11.3.6",
    )
    yield Worked(
        key="geometry",
        what="distance to the ledger's end",
        formula="C∆ = end / 4 D, at most 1; at least 2 D",
        inputs=inputs(("end", joint.end, "in"), ("D", joint.dowel.nominal, "in")),
        value=found.geometry,
        unit="",
        source="NDS 2018 12.5.1, Table 12.5.1A (from memory)",
    )
    yield adjusted_value(
        found.reference,
        found.adjusted_lbf,
        duration=joint.duration,
        wet=joint.wet,
        geometry=found.geometry,
    )
    load = ledger_line_load(case.load_psf, joist_span_ft=case.joist_span_ft)
    yield Worked(
        key="spacing",
        what="greatest spacing by the equations",
        formula="12 Z' / (w L / 2)",
        inputs=inputs(("Z'", found.adjusted_lbf, "lbf"), ("w L / 2", load, "lbf/ft")),
        value=fastener_spacing(found.adjusted_lbf, load_psf=case.load_psf, joist_span_ft=case.joist_span_ft),
        unit="in",
        source="statics",
    )
    if case.places.widest is not None:
        yield Worked(
            key="demand",
            what="load on a fastener at the widest gap as laid out",
            formula="(w L / 2) gap / 12",
            inputs=inputs(("w L / 2", load, "lbf/ft"), ("gap", case.places.widest, "in")),
            value=load * case.places.widest / 12.0,
            unit="lbf",
            limit=found.adjusted_lbf,
            source="statics",
        )


def _pull(case: LedgerCase) -> Iterator[Worked]:
    """Yield what a lag screw holds along its length: not counted on, the lateral ties take the pull."""
    joint = case.joint
    if case.length is None or joint.dowel.kind != "lag screw":
        return
    yield from pull_values(
        joint.dowel,
        specific_gravity=gravity(joint.backing_species),
        thread=thread_in_main(
            joint.dowel,
            length=case.length,
            face=joint.ledger_thickness + joint.gap,
            main=joint.backing_thickness,
        ),
        duration=joint.duration,
        wet=joint.wet,
        where=NAMES.main,
        note="; the lateral ties are to take the pull",
    )


def _both(pull: list[Worked], found: JointValue) -> Iterator[Worked]:
    """Yield what a lag screw carries that is as much pulled as sheared."""
    for each in pull:
        if each.key == "withdrawal":
            yield Worked(
                key="combined",
                what="load that it takes at 45 degrees from the wood's face, as much pull as shear",
                formula="Z'α = W' Z' / (W' cos² α + Z' sin² α)",
                inputs=inputs(
                    ("W'", each.value, "lbf"), ("Z'", found.adjusted_lbf, "lbf"), ("α", _BOTH, "degrees")
                ),
                value=combined_value(each.value, z_adjusted_lbf=found.adjusted_lbf, angle_deg=_BOTH),
                unit="lbf",
                source="NDS 2018 12.4.1",
            )


_BOTH = 45.0
