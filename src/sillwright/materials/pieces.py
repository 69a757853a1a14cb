"""How the pieces of flashing go: order of laps, strips, cuts of the wrap, beads that must stay open."""

from __future__ import annotations

from dataclasses import replace

from sillwright.materials.must import CHECK, must, reach
from sillwright.rules import Case, Verdict


def _over_fin(case: Case) -> bool:
    return case.word("strip_method") == "over the fin"


def _wrap_first(case: Case) -> bool:
    return case.yes("wrap_first")


def _wrap_last(case: Case) -> bool:
    return case.every(lambda: _over_fin(case), lambda: not case.yes("wrap_first"))


def sill_strip_length(opening_width: float, *, jamb_strip: float, widths: float = 2.0) -> float:
    """Return how long sill and head strips are cut [in].

    Args:    jamb_strip: width of the jamb strips [in]; widths: how many of them are added
    Source:  AAMA 2400-10, 5.7.3.2 Note 3: opening width and two widths of the jamb strip; longer does no harm
    """
    return opening_width + widths * jamb_strip


def _strip_length(case: Case) -> Verdict | None:
    if not _wrap_last(case):
        return None
    widths = case.limit("strip.jamb_widths").value
    jamb, opening = case.number("jamb_strip_width"), case.number("opening_width")
    least = sill_strip_length(opening, jamb_strip=jamb, widths=widths)
    have = case.number("sill_strip_length")
    limit = f"at least {case.quantity(least, 'in')}"
    return Verdict(met=have >= least, value=case.quantity(have, "in", against=least), limit=limit)


def _cut(case: Case) -> Verdict | None:
    if not _wrap_first(case):
        return None
    cut = case.word("wrap_cut")
    return Verdict(met=case.limit("wrap.cut").value < 1.0 or cut == "modified I", value=cut)


_SHINGLED = replace(
    CHECK,
    id="flashing.shingled",
    title="upper pieces over lower ones",
    facts=("laps_shingled",),
    limits=("flashing.shingled",),
    severity="stop",
    message="At {place} a lower piece lies over an upper one: it leads water in.",
    advice="Take it off and lay it again from the sill up.",
    mark="opening",
    judge=must("laps_shingled", "flashing.shingled"),
)
_STRIPS = replace(CHECK, advice="Cut a strip that has it.", mark="jamb")

CHECKS = (
    _SHINGLED,
    replace(
        _SHINGLED,
        id="flashing.reaches",
        title="flashing leads to the outside",
        facts=("reaches_outside",),
        limits=("flashing.reaches",),
        message="The flashing at {place} ends inside the wall.",
        advice="Carry it to the face of the wall, or over a wrap that drains.",
        judge=must("reaches_outside", "flashing.reaches"),
    ),
    replace(
        _SHINGLED,
        id="flashing.standard",
        title="flashing of a known standard",
        facts=("to_standard",),
        limits=("flashing.standard",),
        severity="fix",
        message="The flashing at {place} is not to AAMA 711 (self-adhered), 714 (liquid) or 712 (fastened).",
        advice="Look for the standard on roll or pail, or take another.",
        judge=must("to_standard", "flashing.standard"),
    ),
    replace(
        _STRIPS,
        id="flashing.drip",
        title="drip of the flashing",
        facts=("drip_offset",),
        limits=("flashing.drip",),
        message="The drip at {place} stands {value} out from the face below; it must be {limit}.",
        advice="Bend or add a drip that stands out further.",
        mark="sill",
        judge=reach("drip_offset", "flashing.drip"),
    ),
    replace(
        _STRIPS,
        id="strip.width",
        title="width of strips that do not stick by themselves",
        facts=("strips_self_adhered", "strip_width"),
        limits=("strip.width",),
        message="The strips at {place} are {value} wide; they must be {limit}.",
        judge=reach("strip_width", "strip.width", where=lambda case: not case.yes("strips_self_adhered")),
    ),
    replace(
        _STRIPS,
        id="strip.jamb_above_head",
        title="jamb strips above the head fin",
        facts=("strip_method", "jamb_above_head_fin"),
        limits=("strip.jamb_above_head",),
        message="The jamb strips at {place} run {value} above the head fin; {limit} is shown.",
        judge=reach("jamb_above_head_fin", "strip.jamb_above_head", where=_over_fin),
    ),
    replace(
        _STRIPS,
        id="strip.head_beyond_jamb",
        title="head strip beyond the jamb strips",
        facts=("strip_method", "head_beyond_jamb"),
        limits=("strip.head_beyond_jamb",),
        message="The head strip at {place} runs {value} beyond the jamb strips; {limit} is shown.",
        mark="head",
        judge=reach("head_beyond_jamb", "strip.head_beyond_jamb", where=_over_fin),
    ),
    replace(
        _STRIPS,
        id="strip.loose",
        title="sill strip left loose for the wrap",
        facts=("strip_method", "wrap_first", "sill_strip_loose"),
        limits=("strip.loose",),
        message="The sill strip at {place} is loose for {value}; the wrap needs {limit} to slip up under it.",
        advice="Loosen it, or lap the wrap another way that sheds.",
        mark="sill",
        judge=reach("sill_strip_loose", "strip.loose", where=_wrap_last),
    ),
    replace(
        _STRIPS,
        id="strip.length",
        title="length of the sill strip",
        facts=("strip_method", "wrap_first", "sill_strip_length", "jamb_strip_width", "opening_width"),
        limits=("strip.jamb_widths",),
        message="The sill strip at {place} is {value} long; it must be {limit}.",
        mark="sill",
        judge=_strip_length,
    ),
    replace(
        CHECK,
        id="wrap.cut",
        title="cut of the wrap",
        facts=("wrap_first", "wrap_cut"),
        limits=("wrap.cut",),
        message="The wrap at {place} is cut as {value}; a modified I leaves a flap over the head.",
        advice="Put a further sheet over the head, lapped under the wrap above.",
        mark="head",
        judge=_cut,
    ),
    replace(
        CHECK,
        id="wrap.flap_cut",
        title="diagonal cuts of the head flap",
        facts=("wrap_first", "head_flap_cut"),
        limits=("wrap.flap_cut",),
        severity="watch",
        message="The diagonal cuts of the head flap at {place} are {value} long; {limit} is shown.",
        advice="Cut on, so that the flap can be held up while the head strip goes on.",
        mark="head",
        judge=reach("head_flap_cut", "wrap.flap_cut", where=_wrap_first),
    ),
    replace(
        CHECK,
        id="wrap.behind_ledger",
        title="wrap behind the ledger",
        facts=("ledger_below", "wrap_behind_ledger"),
        limits=("wrap.behind_ledger",),
        message="The wrap stops at the ledger below {place}; it must go on behind it.",
        advice="Put a backing sheet behind the ledger, lapped under the wrap above and over the wrap below.",
        mark="ledger",
        judge=must("wrap_behind_ledger", "wrap.behind_ledger", where=lambda case: case.yes("ledger_below")),
    ),
    replace(
        CHECK,
        id="bead.bottom_open",
        title="bottom of the fin left open",
        facts=("bead_along_bottom",),
        limits=("bead.bottom_open",),
        message="A bead along the bottom of the fin at {place} holds water in the pan.",
        advice="Leave the bottom open, or break the bead so that the pan drains.",
        judge=must("bead_along_bottom", "bead.bottom_open", be=False),
    ),
    replace(
        CHECK,
        id="bead.face_open",
        title="face of the unit not sealed to the wrap all round",
        facts=("face_sealed_to_wrap",),
        limits=("bead.face_open",),
        message="The unit at {place} is sealed to the wrap all round: what gets in cannot get out.",
        advice="Seal head and jambs, leave the sill open.",
        judge=must("face_sealed_to_wrap", "bead.face_open", be=False),
    ),
    replace(
        CHECK,
        id="bead.flap_open",
        title="head flap free to weep",
        facts=("wrap_first", "head_flap_taped_solid"),
        limits=("bead.flap_open",),
        severity="watch",
        message="The lower edge of the head flap at {place} is taped all along.",
        advice="Short tapes with gaps between let it weep; tape the diagonal cuts.",
        mark="head",
        judge=must("head_flap_taped_solid", "bead.flap_open", be=False, where=_wrap_first),
    ),
)
