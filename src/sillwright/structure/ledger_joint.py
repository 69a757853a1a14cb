"""A ledger's fasteners by the yield-limit equations, for what the code table does not cover.

For your engineer. The joists load the ledger across its grain, and the band joist across its own. The code's
table rests on tests of whole ledgers and allows wider spacing than these equations; keep the two apart.
Source: NDS 2018 11.3, 12.1 to 12.5.
"""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.structure.connection_factors import WET_DOWEL, adjusted_lateral, edge_distance
from sillwright.structure.dowels import Dowel, Side, bearing_strength, gravity
from sillwright.structure.given import need_not_negative, need_positive
from sillwright.structure.tables import refuse
from sillwright.structure.yield_limit import Lateral, fastener_spacing, single_shear

NOTE = "for your engineer"
_ACROSS = 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerJoint:
    """One dowel through a ledger into what is behind it."""

    dowel: Dowel
    ledger_species: str
    backing_species: str
    ledger_thickness: float = 1.5
    backing_thickness: float = 1.5
    """Wood the dowel bears in behind the ledger, without a lag's tip [in]."""
    gap: float = 0.0
    """Sheathing or air between the two [in]."""
    loaded_edge: float = 2.0
    """From the dowel to the ledger's edge that the load pushes toward [in]."""
    duration: str = "ten_years_live"
    wet: bool = True
    """Above 19 % moisture in service, as a deck ledger can be."""

    def __post_init__(self) -> None:
        need_positive(ledger_thickness=self.ledger_thickness, backing_thickness=self.backing_thickness)
        need_not_negative(gap=self.gap, loaded_edge=self.loaded_edge)


@dataclass(frozen=True, slots=True, kw_only=True)
class JointValue:
    """What one dowel carries, why not more, and the factors that made it."""

    reference: Lateral
    adjusted_lbf: float
    mode: str
    factors: str
    note: str = NOTE


def joint_value(joint: LedgerJoint) -> JointValue:
    """Return what one dowel of a ledger carries downward, in single shear [lbf].

    Raises: BadInput: species or duration not known; OutOfRange: a gap, which the equations leave out (AWC TR
        12 has it), a loaded edge nearer than 4 D, or too little penetration
    """
    if joint.gap > 0.0:
        raise refuse(f"a gap of {joint.gap:g} in is more than the 0 of these equations (see AWC TR 12)")
    least = edge_distance("loaded_across_grain", diameter=joint.dowel.nominal)
    if joint.loaded_edge < least - 1e-9:
        raise refuse(f"a loaded edge of {joint.loaded_edge:g} in is less than 4 D, {least:g} in")
    found = single_shear(
        joint.dowel,
        main=_across(joint.backing_species, joint.dowel, joint.backing_thickness),
        side=_across(joint.ledger_species, joint.dowel, joint.ledger_thickness),
    )
    return JointValue(
        reference=found,
        adjusted_lbf=adjusted_lateral(found.z_lbf, duration=joint.duration, wet=joint.wet),
        mode=found.mode,
        factors=f"{joint.duration.replace('_', ' ')}" + (f", wet service {WET_DOWEL:g}" if joint.wet else ""),
    )


def joint_spacing(joint: LedgerJoint, *, load_psf: float, joist_span_ft: float) -> float:
    """Return the on-centre spacing that the value of one dowel allows [in]; live and dead load together."""
    return fastener_spacing(joint_value(joint).adjusted_lbf, load_psf=load_psf, joist_span_ft=joist_span_ft)


def _across(species: str, dowel: Dowel, thickness: float) -> Side:
    fe = bearing_strength(gravity(species), diameter=dowel.nominal, angle_deg=_ACROSS)
    return Side(bearing_length=thickness, fe_psi=fe, angle_deg=_ACROSS)
