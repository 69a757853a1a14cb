"""Pan, sill, dams and drips: where water that got in must get out, and how high it may be driven."""

from __future__ import annotations

from dataclasses import replace

from sillwright.materials.head import back_dam_height, end_dam_height
from sillwright.materials.limits import in_force, requirement
from sillwright.materials.must import CHECK, must, reach
from sillwright.rules import Case, RuleBook, Verdict


def eave_shelters(eave_above_trim: float, overhang: float, book: RuleBook) -> bool:
    """Tell whether an eave keeps so much rain off that the place asks for no flashing over the head.

    Args:    eave_above_trim: height of the eave above the top of the trim [in]; overhang: of the eave [in]
    Source:  Ontario Building Code 9.27.3.8(3); where a place has no such rule, it never does
    """
    ratio = requirement("head.eave_ratio", book).value
    return ratio is not None and eave_above_trim <= ratio * overhang


def _head(case: Case) -> Verdict | None:
    if not case.sets("head.eave_ratio"):
        return None
    ratio = case.limit("head.eave_ratio").value
    if case.yes("head_flashing"):
        return Verdict(met=True)
    drop, overhang = case.number("eave_above_trim"), case.number("eave_overhang")
    return Verdict(
        met=eave_shelters(drop, overhang, case.book),
        value=case.quantity(drop, "in", against=ratio * overhang),
        limit=f"at most {case.quantity(ratio * overhang, 'in')}",
    )


def _barrier(case: Case) -> Verdict | None:
    if not in_force(case, "pan.barrier") or case.yes("drained"):
        return None
    return Verdict(met=case.yes("sheltered"))


def _dam(case: Case, fact: str, least: float) -> Verdict:
    have, psf = case.number(fact), case.number("water_psf")
    return Verdict(
        met=have >= least,
        value=case.quantity(have, "in", against=least),
        limit=f"at least {case.quantity(least, 'in', against=have)} for water under {psf:g} psf",
    )


def _back_dam(case: Case) -> Verdict:
    case.limit("dam.back")  # so that it is cited
    return _dam(case, "back_dam", back_dam_height(case.number("water_psf"), case.book))


def _end_dam(case: Case) -> Verdict:
    case.limit("dam.end_rate" if case.sets("dam.end_rate") else "dam.end")  # so that it is cited
    return _dam(case, "end_dam", end_dam_height(case.number("water_psf"), case.book))


def _slope(case: Case) -> Verdict | None:
    if not case.sets("sill.slope"):
        return None
    return case.at_least(case.number("sill_slope_pct"), "sill.slope")


def _upturn_full(case: Case) -> Verdict | None:
    upturn = case.number("pan_upturn")
    if upturn < case.limit("pan.upturn").value:
        return None  # told as too short
    return case.at_least(upturn, "pan.upturn_full")


def _bare_sill(case: Case) -> bool:
    least = case.limit("sill.drip_from_grade").value
    return case.every(
        lambda: not case.yes("concealed_flashing"), lambda: case.number("sill_above_grade") >= least
    )


def _sealant(case: Case) -> Verdict | None:
    if not case.sets("sealant.class"):
        return None
    least = case.limit("sealant.class").value
    good = case.some(
        lambda: case.yes("sealant_aama_800"),
        lambda: case.every(
            lambda: case.number("sealant_class") >= least, lambda: case.yes("sealant_grade_ns")
        ),
    )
    stated = case.if_known("sealant_class")
    value = "of no stated class" if stated is None else f"Class {stated:g}"
    return Verdict(met=good, value=value, limit=f"AAMA 800, or ASTM C920 Class {least:g} Grade NS or better")


def _moisture(case: Case) -> Verdict | None:
    if case.number("framing_mc_pct") > case.limit("wood.decay").value:
        return None  # told as wet enough to rot
    return case.at_most(case.number("framing_mc_pct"), "wood.framing_mc")


_PAN = replace(
    CHECK,
    id="pan.required",
    title="pan under the unit",
    facts=("pan",),
    limits=("pan.required",),
    message="There is no pan under the unit at {place}.",
    advice="Put one in, unless the unit's own instructions say otherwise.",
    judge=must("pan", "pan.required"),
)
_DRIP = replace(CHECK, advice="Bend or add a drip that stands out further.")

CHECKS = (
    _PAN,
    replace(
        _PAN,
        id="pan.drains",
        title="pan drains to the outside",
        facts=("pan", "pan_drains"),
        limits=("pan.drains",),
        message="The pan at {place} is neither sealed nor sloped so that it drains outward.",
        advice="Slope it, or give it a back dam, and leave its outer edge open.",
        judge=must("pan_drains", "pan.drains", where=lambda case: case.yes("pan")),
    ),
    replace(
        _PAN,
        id="pan.head_and_jambs",
        title="head and jambs flashed with the pan",
        facts=("head_and_jambs_flashed",),
        limits=("pan.head_and_jambs",),
        message="Head or jambs at {place} are not flashed.",
        advice="A pan alone catches what runs down; flash head and both jambs over it.",
        mark="jamb",
        judge=must("head_and_jambs_flashed", "pan.head_and_jambs"),
    ),
    replace(
        _PAN,
        id="pan.barrier",
        title="a way out for water where rain gets there",
        facts=("drained", "sheltered"),
        limits=("pan.barrier",),
        message="The opening at {place} is sealed without a way out for water, and rain gets there.",
        advice="Let the sill drain.",
        judge=_barrier,
    ),
    replace(
        _PAN,
        id="pan.upturn",
        title="upturn of the pan at the jambs",
        facts=("pan_upturn",),
        limits=("pan.upturn",),
        message="The pan at {place} turns up {value} at the jambs; {limit} is shown.",
        advice="Cut a longer pan, or patch the corner up the jamb.",
        judge=reach("pan_upturn", "pan.upturn"),
    ),
    replace(
        _PAN,
        id="pan.upturn_full",
        title="full upturn of the pan at the jambs",
        facts=("pan_upturn",),
        limits=("pan.upturn", "pan.upturn_full"),
        severity="watch",
        message="The pan at {place} turns up {value} at the jambs; sources show 4 to 6 in, here {limit}.",
        advice="Turn it up further if the stock allows.",
        judge=_upturn_full,
    ),
    replace(
        _PAN,
        id="pan.past_below",
        title="pan past what is below",
        facts=("pan_past_below",),
        limits=("pan.past_below",),
        message="The pan at {place} reaches {value} past what is below; it must be {limit}.",
        advice="Carry it out further.",
        judge=reach("pan_past_below", "pan.past_below"),
    ),
    replace(
        CHECK,
        id="sill.slope",
        title="slope of the sill's flashing after shrinkage",
        facts=("sill_slope_pct",),
        limits=("sill.slope",),
        message="The sill at {place} slopes {value} outward once the frame has shrunk; it must be {limit}.",
        advice="Put a steeper cant strip under the pan.",
        judge=_slope,
    ),
    replace(
        _DRIP,
        id="sill.drip_out",
        title="drip of a sill without a concealed flashing",
        facts=("concealed_flashing", "sill_above_grade", "sill_drip_out"),
        limits=("sill.drip_out", "sill.drip_from_grade"),
        message="The drip of the sill at {place} stands {value} out from the wall; it must be {limit}.",
        judge=reach("sill_drip_out", "sill.drip_out", where=_bare_sill),
    ),
    replace(
        _DRIP,
        id="sill.self_drip",
        title="drip of a sill that is its own flashing",
        facts=("self_flashing_sill", "self_flashing_drip"),
        limits=("sill.self_drip",),
        message="The drip of the unit's sill at {place} is {value} past the cladding; it must be {limit}.",
        judge=reach(
            "self_flashing_drip", "sill.self_drip", where=lambda case: case.yes("self_flashing_sill")
        ),
    ),
    replace(
        CHECK,
        id="dam.back",
        title="height of the back dam",
        facts=("back_dam", "water_psf"),
        limits=("dam.back",),
        message="The back dam at {place} stands {value}; it must be {limit}.",
        advice="Raise the dam; the rise of the slope counts. A lower rating drives water less high.",
        decides="who chooses the rating",
        judge=_back_dam,
    ),
    replace(
        CHECK,
        id="dam.end_needed",
        title="end dams",
        facts=("end_dams",),
        limits=("dam.end_needed",),
        message="The flashing at {place} has no end dams.",
        advice="Fold or patch them up at both ends.",
        judge=must("end_dams", "dam.end_needed"),
    ),
    replace(
        CHECK,
        id="dam.end",
        title="height of the end dams",
        facts=("end_dam", "water_psf"),
        limits=("dam.end", "dam.end_rate"),
        message="The end dams at {place} are {value} high; they must be {limit}.",
        advice="Fold or patch them higher.",
        judge=_end_dam,
    ),
    replace(
        CHECK,
        id="head.eave",
        title="flashing over the head, or an eave that shelters",
        facts=("head_flashing", "eave_above_trim", "eave_overhang"),
        limits=("head.eave_ratio",),
        message="No flashing over the head at {place}, and its trim is {value} below the eave, not {limit}.",
        advice="Flash the head.",
        mark="head",
        judge=_head,
    ),
    replace(
        CHECK,
        id="sealant.class",
        title="sealant between unit and wall",
        facts=("sealant_class", "sealant_grade_ns", "sealant_aama_800"),
        limits=("sealant.class",),
        message="The sealant at {place} is {value}; it must be {limit}.",
        advice="Look at the cartridge, and take one that is.",
        mark="jamb",
        judge=_sealant,
    ),
    replace(
        CHECK,
        id="wood.decay",
        title="framing not wet enough to rot",
        facts=("framing_mc_pct",),
        limits=("wood.decay",),
        message="The framing at {place} holds {value} of its dry weight in water; above about 30 % it rots.",
        advice="Find where the water comes from, look for rot, and let it dry before anything covers it.",
        judge=lambda case: case.at_most(case.number("framing_mc_pct"), "wood.decay"),
    ),
    replace(
        CHECK,
        id="wood.framing_mc",
        title="framing dry before it is closed in",
        facts=("framing_mc_pct",),
        limits=("wood.framing_mc", "wood.decay"),
        severity="watch",
        message="The framing at {place} holds {value} of its dry weight in water; it should be {limit}.",
        advice="Let it dry before membranes and boards close it in.",
        judge=_moisture,
    ),
)
