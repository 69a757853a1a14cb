"""A ledger's fasteners by calculation, value by value: bearing, penetration, distances, modes, factors, pull.

For your engineer. Source: NDS 2018 11.3, 12.1 to 12.5; AWC TR 12 where sheathing lies between.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from sillwright.errors import OutOfRange
from sillwright.structure.connection_factors import WET_DOWEL, edge_distance, row_spacing
from sillwright.structure.dowels import (
    Side,
    bolt,
    gravity,
    lag_length,
    lag_penetration,
    lag_screw,
    thread_length,
)
from sillwright.structure.given import need_positive
from sillwright.structure.layout import Layout, LayoutRequest
from sillwright.structure.ledger import Distances, LedgerLoad
from sillwright.structure.ledger_joint import JointValue, LedgerJoint, joint_value
from sillwright.structure.timber import DURATIONS, wood
from sillwright.structure.withdrawal import combined_value, withdrawal, withdrawal_per_inch
from sillwright.structure.worked import Sheet, Worked, inputs
from sillwright.structure.yield_limit import (
    LEAST_PENETRATION,
    MODES,
    Lateral,
    fastener_spacing,
    ledger_line_load,
    reductions,
)
from sillwright.structure.zones import band_at

LEDGER_DIAMETER = 0.5
"""Of ledger fasteners, as in the code's table [in]."""
DECK_DEAD_PSF = 10.0
"""Of the deck; inside the code's table."""
GEOMETRY = "NDS 2018 Tables 12.5.1C, 12.5.1D (from memory)"
YIELD = "NDS 2018 Table 12.3.1A"
YIELD_WITH_GAP = "AWC TR 12 Table 1-1 (from memory)"
FACTORS = "NDS 2018 Tables 2.3.2, 11.3.1, 11.3.3 (factors from memory)"
WITHDRAWAL = "NDS 2018 12.2.1, Table 11.3.3 (wet factor from memory)"
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
    values += [*_modes(case.joint, found.reference), *_adjusted(case, found), *pull, *_both(pull, found)]
    return Sheet(
        subject=subject,
        values=tuple(values),
        main="spacing",
        phrase="at most {} on centre",
        governs=f"mode-{found.mode}",
        verdict=f"mode {found.mode} governs: {in_a_ledger(found.mode)}",
        taken=taken,
    )


def in_a_ledger(mode: str) -> str:
    """Return what gives way in a yield mode, said of a ledger."""
    return MODES[mode].replace("main member", "wood behind").replace("side member", "ledger")


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
    least = LEAST_PENETRATION.get(joint.dowel.kind, 0.0) * joint.dowel.nominal
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


_ROOT = "(−B + √(B² − 4AC)) / (2A Rd)"
_FORMULAS = {
    "Im": "qm lm / Rd",
    "Is": "qs ls / Rd",
    "II": f"{_ROOT}; A = 1/4qs + 1/4qm, B = ls/2 + g + lm/2, C = −qs ls²/4 − qm lm²/4",
    "IIIm": f"{_ROOT}; A = 1/2qs + 1/4qm, B = g + lm/2, C = −M − qm lm²/4",
    "IIIs": f"{_ROOT}; A = 1/4qs + 1/2qm, B = ls/2 + g, C = −qs ls²/4 − M",
    "IV": f"{_ROOT}; A = 1/2qs + 1/2qm, B = g, C = −2M",
}


def _modes(joint: LedgerJoint, found: Lateral) -> Iterator[Worked]:
    dowel, qm, qs = joint.dowel, *(member.fe_psi * joint.dowel.diameter for member in _members(joint))
    moment = dowel.fyb_psi * dowel.diameter**3 / 6.0
    source = YIELD_WITH_GAP if joint.gap else YIELD
    for key, name, q, member in (
        ("qs", "ledger", qs, joint.ledger),
        ("qm", "wood behind", qm, joint.backing),
    ):
        yield Worked(
            key=key,
            what=f"bearing of the fastener in the {name}",
            formula=f"{key} = Fe D",
            inputs=inputs(("Fe", member.fe_psi, "psi"), ("D, root or shank", dowel.diameter, "in")),
            value=q,
            unit="lbf/in",
            source="AWC TR 12",
        )
    yield Worked(
        key="moment",
        what="bending moment at which the fastener yields",
        formula="M = Fyb D³ / 6",
        inputs=inputs(("Fyb", dowel.fyb_psi, "psi"), ("D, root or shank", dowel.diameter, "in")),
        value=moment,
        unit="in lbf",
        source="NDS 2018 appendix I and L (lag screws from memory)",
    )
    terms = reductions(dowel, *_members(joint))
    by_mode = dict(zip(("Im", "Is", "II"), (terms[0], terms[0], terms[1]), strict=True))
    for mode, z in found.modes.items():
        yield Worked(
            key=f"mode-{mode}",
            what=f"mode {mode}: {in_a_ledger(mode)}",
            formula=_FORMULAS[mode],
            inputs=tuple(
                each
                for each in inputs(
                    ("qs", qs, "lbf/in"),
                    ("qm", qm, "lbf/in"),
                    ("ls", joint.ledger_thickness, "in"),
                    ("lm", joint.backing_thickness, "in"),
                    ("g", joint.gap, "in"),
                    ("M", moment, "in lbf"),
                    ("Rd", by_mode.get(mode, terms[2]), ""),
                )
                if each.name in _FORMULAS[mode]
            ),
            value=z,
            unit="lbf",
            source=f"{source}; Rd: NDS 2018 Table 12.3.1B",
        )


def _members(joint: LedgerJoint) -> tuple[Side, Side]:
    return joint.backing, joint.ledger


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
    yield Worked(
        key="z",
        what="each fastener, adjusted",
        formula="Z' = Z CD CM Cg C∆, Z the least of the modes",
        inputs=inputs(
            (f"Z, mode {found.mode}", found.reference.z_lbf, "lbf"),
            (f"CD, {joint.duration.replace('_', ' ')}", DURATIONS[joint.duration], ""),
            ("CM, wet" if joint.wet else "CM, dry", WET_DOWEL if joint.wet else 1.0, ""),
            ("Cg", 1.0, ""),
            ("C∆", found.geometry, ""),
        ),
        value=found.adjusted_lbf,
        unit="lbf",
        source=FACTORS,
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
    g = gravity(joint.backing_species)
    each = withdrawal_per_inch("lag screw", specific_gravity=g, diameter=joint.dowel.nominal)
    yield Worked(
        key="withdrawal-inch",
        what="pull that an inch of thread takes; the lateral ties are to take the pull",
        formula="W = 1800 G^1.5 D^0.75",
        inputs=inputs(("G", g, ""), ("D", joint.dowel.nominal, "in")),
        value=each,
        unit="lbf/in",
        source="NDS 2018 12.2.1, Table 12.2A",
    )
    thread = thread_in_backing(case.length, joint)
    if thread <= 0.0:
        return
    duration, wet = DURATIONS[joint.duration], WET_DOWEL if joint.wet else 1.0
    yield Worked(
        key="withdrawal",
        what="pull that the thread in the wood behind takes, tip left out",
        formula="W' = W p CD CM",
        inputs=inputs(
            ("W", each, "lbf/in"), ("p, thread behind", thread, "in"), ("CD", duration, ""), ("CM", wet, "")
        ),
        value=withdrawal(each, thread_in_main=thread, duration=duration, wet=wet),
        unit="lbf",
        source=f"{WITHDRAWAL}; thread of a stock screw: appendix L, from memory",
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


def thread_in_backing(length: float, joint: LedgerJoint) -> float:
    """Return how much thread of a stock lag screw lies in the wood behind, tip left out [in]."""
    ends = length - joint.dowel.tip
    starts = ends - thread_length(length, tip=joint.dowel.tip)
    face = joint.ledger_thickness + joint.gap
    return max(0.0, min(ends, face + joint.backing_thickness) - max(starts, face))
