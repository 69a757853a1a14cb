"""Heat, fire, old paint, wires: what the place and the house ask of an opening."""

from __future__ import annotations

from dataclasses import replace

from sillwright.rules import PRACTICE, Case, Check, Row, Source, Verdict

LEAD_YEAR = 1978
"""Houses built before it are taken to hold lead paint: 40 CFR 745, subpart E (target housing)."""


def table_zone(zone: str) -> str:
    """Return a climate zone as the table has it: 5A is 5, 4C is marine 4."""
    plain = " ".join(zone.lower().split())
    if plain in ("4c", "4 marine"):
        return "marine 4"
    return plain[:-1] if plain[-1:] in ("a", "b", "c") and plain[:-1].isdigit() else plain


def _zone(case: Case) -> Row:
    zone = table_zone(case.word("climate_zone"))
    keys = {"edition": case.book.edition, "climate_zone": zone}
    return case.row("fenestration", keys)


def _u_factor(case: Case) -> Verdict | None:
    if case.if_known("glass") is False:
        return None
    row = _zone(case)
    usual, high = row.values["u_max"], row.values["u_max_high"]
    found = case.number("u_factor")
    if usual is None or high is None:
        return Verdict(met=True, value=f"U {found:g}", limit="no requirement in this zone")
    limit = usual
    if usual < found <= high and case.yes("high_or_windborne"):
        limit = high
    return Verdict(met=found <= limit, value=f"U {found:g}", limit=f"at most U {limit:g}")


def _shgc(case: Case) -> Verdict | None:
    if case.if_known("glass") is False:
        return None
    limit = _zone(case).values["shgc_max"]
    if limit is None:
        return None
    found = case.number("shgc")
    return Verdict(met=found <= limit, value=f"SHGC {found:g}", limit=f"at most SHGC {limit:g}")


def _no_opening(case: Case) -> Verdict | None:
    return case.at_least(case.number("lot_line_distance"), "fire.none_within")


def _share(case: Case) -> Verdict | None:
    none, some = case.limit("fire.none_within"), case.limit("fire.share_within")
    distance = case.number("lot_line_distance")
    if not none.value <= distance < some.value:
        return None
    return case.at_most(case.number("openings_share_pct"), "fire.share")


def _lead(case: Case) -> Verdict | None:
    year = case.number("year_built")
    return Verdict(met=year >= LEAD_YEAR, value=f"built {year:.0f}", limit=f"built {LEAD_YEAR} or later")


def _wires(case: Case) -> Verdict | None:
    if case.if_known("wall_cut") is False:
        return None
    return Verdict(met=False, value="", limit="")


_energy = Check(
    id="energy.u_factor",
    title="U-factor of the unit",
    source=Source(title="IECC", section="Table R402.1.2"),
    facts=("glass", "climate_zone", "u_factor", "high_or_windborne"),
    tables=("fenestration",),
    severity="fix",
    message="The unit at {place} has {value}; its climate zone asks for {limit}.",
    advice="Order a better rated unit, or show the whole house by another path of the energy code.",
    decides="building department, or the unit's rating label",
    mark="glass",
    judge=_u_factor,
)
_fire = Check(
    id="fire.distance",
    title="fire separation distance",
    source=Source(title="IRC", section="Table R302.1(1)"),
    facts=("lot_line_distance",),
    limits=("fire.none_within",),
    severity="stop",
    message="The wall at {place} stands {value} from the lot line; for an opening it needs {limit}.",
    advice="Add or widen no opening here. Walls square to the lot line and sprinklered houses differ.",
    mark="wall",
    judge=_no_opening,
)

CHECKS = (
    _energy,
    replace(
        _energy,
        id="energy.shgc",
        title="solar heat gain of the unit",
        facts=("glass", "climate_zone", "shgc"),
        judge=_shgc,
    ),
    _fire,
    replace(
        _fire,
        id="fire.share",
        title="share of openings near the lot line",
        facts=("lot_line_distance", "openings_share_pct"),
        limits=("fire.none_within", "fire.share_within", "fire.share"),
        severity="fix",
        message="Openings take {value} of the wall at {place}; so near the lot line {limit} is allowed.",
        advice="Make the openings smaller, or protect the wall as the building department says.",
        judge=_share,
    ),
    Check(
        id="paint.lead",
        title="lead in old paint",
        source=Source(title="40 CFR 745", section="subpart E", has_editions=False),
        facts=("year_built",),
        severity="fix",
        message="The house at {place} was {value}: take its paint as lead until it is tested.",
        advice="A certified firm contains, works wet, cleans and verifies; the owner gets the pamphlet. "
        "Replacing a window falls under the rule whatever its size.",
        decides="a certified inspector's test, or a certified renovator on the job",
        mark="wall",
        judge=_lead,
    ),
    Check(
        id="wall.services",
        title="wires and pipes in the wall",
        source=Source(title=PRACTICE, has_editions=False),
        facts=("wall_cut",),
        severity="watch",
        message="Wires and pipes may run in the wall at {place}.",
        advice="Trace and shut off before cutting or driving a fastener; licensed trades move them.",
        decides="a licensed electrician or plumber",
        mark="wall",
        judge=_wires,
    ),
)
