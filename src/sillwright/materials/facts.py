"""What is known of the flashing of one opening: every fact may be unknown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.rules import check_stated, said

StripMethod = Literal["over the fin", "under the fin"]
WrapCut = Literal["modified I", "X", "other"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterFacts:
    """One opening; lengths in inches."""

    laps_shingled: bool | None = said("whether every upper piece laps over the lower one")
    reaches_outside: bool | None = said("whether the flashing reaches the wall's face, or a wrap that drains")
    to_standard: bool | None = said("whether the flashing is to AAMA 711, 712 or 714")
    # RUF009: `said` makes a field with its words, as dataclasses.field does
    strip_method: StripMethod | None = said("whether strips go over or under the fin", one_of=StripMethod)  # noqa: RUF009
    wrap_first: bool | None = said("whether the wrap is on before the unit")
    strips_self_adhered: bool | None = said("whether the strips stick by themselves")
    strip_width: float | None = said("the width of the strips")
    jamb_above_head_fin: float | None = said("how far the jamb strips run above the head fin")
    head_beyond_jamb: float | None = said("how far the head strip runs beyond the jamb strips, each side")
    sill_strip_loose: float | None = said("how far the sill strip is left loose at its lower edge and ends")
    sill_strip_length: float | None = said("the length of the sill strip")
    jamb_strip_width: float | None = said("the width of the jamb strips")
    opening_width: float | None = said("the width of the opening", sign="over 0")
    wrap_cut: WrapCut | None = said("how the wrap is cut at the opening", one_of=WrapCut)  # noqa: RUF009
    head_flap_cut: float | None = said("the length of the head flap's diagonal cuts")
    head_flap_taped_solid: bool | None = said("whether the head flap's lower edge is taped all along")
    bead_along_bottom: bool | None = said("whether there is a bead along the bottom of the fin")
    face_sealed_to_wrap: bool | None = said("whether the unit's face is sealed to the wrap all round")
    wrap_behind_ledger: bool | None = said("whether the wrap goes on behind the ledger")
    ledger_below: bool | None = said("whether a deck ledger is below")
    pan: bool | None = said("whether there is a pan under the unit")
    pan_drains: bool | None = said("whether the pan is sealed or sloped so that it drains outward")
    head_and_jambs_flashed: bool | None = said("whether head and jambs are flashed")
    head_flashing: bool | None = said("whether there is a flashing over the head")
    eave_above_trim: float | None = said("the height of the eave above the top of the trim")
    eave_overhang: float | None = said("the overhang of the eave")
    sheltered: bool | None = said("whether a porch or overhang keeps rain off, or there is little rain")
    drained: bool | None = said("whether water in the opening can drain out")
    pan_upturn: float | None = said("how far the pan turns up at the jambs")
    pan_past_below: float | None = said("how far the pan reaches out past what is below it")
    sill_slope_pct: float | None = said("the slope of the sill that is left after shrinkage", sign="either")
    back_dam: float | None = said("the height of the back dam's top above the pan's outer edge")
    end_dams: bool | None = said("whether there are end dams")
    end_dam: float | None = said("the height of the end dams")
    water_psf: float | None = said("the pressure that drives water: rated water test, or wind in rain")
    drip_offset: float | None = said("how far the flashing's drip stands out from the face below")
    concealed_flashing: bool | None = said("whether there is a concealed flashing under the sill")
    sill_above_grade: float | None = said("the height of the sill above the ground", sign="either")
    sill_drip_out: float | None = said("how far the sill's drip stands out from the wall")
    self_flashing_sill: bool | None = said("whether the unit's sill is its own flashing")
    self_flashing_drip: float | None = said("how far that sill's drip stands out from the cladding below")
    sealant_class: float | None = said("the class of the sealant by ASTM C920")
    sealant_grade_ns: bool | None = said("whether the sealant is of Grade NS by ASTM C920")
    sealant_aama_800: bool | None = said("whether the sealant is to AAMA 800")
    framing_mc_pct: float | None = said("the moisture of the framing in percent of dry weight")

    def __post_init__(self) -> None:
        check_stated(self)
