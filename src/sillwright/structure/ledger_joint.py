"""A ledger's fasteners by the yield-limit equations, for what the code table does not cover.

For your engineer. The joists load the ledger across its grain, and the band joist across its own: the dowel
bears up on the ledger's wood above it, toward its top edge, and down on the band joist's below it.
The code's table rests on tests of whole ledgers and allows wider spacing than these equations; keep the two
apart. Source: NDS 2018 11.3, 12.1 to 12.5; with sheathing between, AWC TR 12.
"""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.structure.connection_factors import adjusted_lateral, geometry_factor, need_edge
from sillwright.structure.dowels import Dowel, Side, bearing_strength, gravity
from sillwright.structure.given import need_not_negative, need_positive
from sillwright.structure.worked import NOTE
from sillwright.structure.yield_limit import Lateral, fastener_spacing, single_shear

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
    """Sheathing, washers or air between the two; no bearing is counted there [in]."""
    loaded_edge: float = 2.0
    """Least distance to the ledger's top and the band joist's underside [in]."""
    free_edge: float = 0.75
    """Least distance to the ledger's underside and the band joist's top [in]."""
    end: float = 2.0
    """Least distance to the ledger's ends [in]."""
    duration: str = "ten_years_live"
    wet: bool = True
    """Above 19 % moisture in service, as a deck ledger can be."""

    def __post_init__(self) -> None:
        need_positive(
            ledger_thickness=self.ledger_thickness, backing_thickness=self.backing_thickness, end=self.end
        )
        need_not_negative(gap=self.gap, loaded_edge=self.loaded_edge, free_edge=self.free_edge)

    @property
    def ledger(self) -> Side:
        """Return the ledger as the side member."""
        return _across(self.ledger_species, self.dowel, self.ledger_thickness)

    @property
    def backing(self) -> Side:
        """Return what is behind it as the main member."""
        return _across(self.backing_species, self.dowel, self.backing_thickness)


@dataclass(frozen=True, slots=True, kw_only=True)
class JointValue:
    """What one dowel carries, why not more, and what the ends take off."""

    reference: Lateral
    adjusted_lbf: float
    geometry: float
    """C_delta of the ends."""
    note: str = NOTE

    @property
    def mode(self) -> str:
        """Return the yield mode that governs."""
        return self.reference.mode


def joint_value(joint: LedgerJoint) -> JointValue:
    """Return what one dowel of a ledger carries downward, in single shear [lbf].

    Each dowel is a row of its own along the load, so group action takes nothing off.

    Raises: BadInput: species or duration not known; OutOfRange: an edge or end nearer than the standard
        allows, or too little penetration
    """
    diameter = joint.dowel.nominal
    need_edge("loaded_across_grain", joint.loaded_edge, diameter=diameter)
    need_edge("unloaded_across_grain", joint.free_edge, diameter=diameter)
    found = single_shear(joint.dowel, main=joint.backing, side=joint.ledger, gap=joint.gap)
    geometry = geometry_factor("end_across_grain", distance=joint.end, diameter=diameter)
    return JointValue(
        reference=found,
        adjusted_lbf=adjusted_lateral(found.z_lbf, duration=joint.duration, wet=joint.wet, geometry=geometry),
        geometry=geometry,
    )


def joint_spacing(joint: LedgerJoint, *, load_psf: float, joist_span_ft: float) -> float:
    """Return the on-centre spacing that the value of one dowel allows [in]; live and dead load together."""
    return fastener_spacing(joint_value(joint).adjusted_lbf, load_psf=load_psf, joist_span_ft=joist_span_ft)


def _across(species: str, dowel: Dowel, thickness: float) -> Side:
    fe = bearing_strength(gravity(species), diameter=dowel.nominal, angle_deg=_ACROSS)
    return Side(bearing_length=thickness, fe_psi=fe, angle_deg=_ACROSS)
