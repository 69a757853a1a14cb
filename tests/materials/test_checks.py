from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any

import pytest

from sillwright.errors import BadInput
from sillwright.materials import CHECKS, WaterFacts, check_water, eave_shelters, examine_one, examine_water
from sillwright.materials.checks import OPENING
from sillwright.materials.laps import LapFacts
from sillwright.materials.sticking import StickFacts
from sillwright.rules import PLACES, amended, catalogue, load_table, rule_book

MODEL, ONTARIO, FLORIDA = (rule_book("2018", place) for place in PLACES[:1] + PLACES[2:] + PLACES[1:2])
GOOD: Mapping[str, Any] = {
    "laps_shingled": True,
    "reaches_outside": True,
    "to_standard": True,
    "strip_method": "over the fin",
    "wrap_first": True,
    "strips_self_adhered": True,
    "jamb_above_head_fin": 4.0,
    "head_beyond_jamb": 1.0,
    "wrap_cut": "modified I",
    "head_flap_cut": 6.0,
    "head_flap_taped_solid": False,
    "bead_along_bottom": False,
    "face_sealed_to_wrap": False,
    "wrap_behind_ledger": True,
    "ledger_below": True,
    "pan": True,
    "pan_drains": True,
    "head_and_jambs_flashed": True,
    "head_flashing": True,
    "drained": True,
    "pan_upturn": 6.0,
    "pan_past_below": 0.25,
    "sill_slope_pct": 6.0,
    "back_dam": 1.0,
    "end_dams": True,
    "end_dam": 1.0,
    "water_psf": 4.5,
    "drip_offset": 0.25,
    "concealed_flashing": True,
    "self_flashing_sill": False,
    "sealant_aama_800": True,
    "framing_mc_pct": 15.0,
}


@pytest.mark.parametrize("place", PLACES)
def test_a_sound_opening_has_no_findings_anywhere(place: str) -> None:
    book = rule_book("2018", place)
    assert check_water(WaterFacts(**GOOD), book, place="A") == ()
    assert {each.status for each in examine_water(WaterFacts(**GOOD), book, place="A")} == {
        "met",
        "does not apply",
    }


@pytest.mark.parametrize("place", PLACES)
def test_of_an_unknown_opening_nothing_is_passed_and_all_is_asked(place: str) -> None:
    book = rule_book("2018", place)
    results = examine_water(WaterFacts(), book, place="A")
    assert {each.status for each in results} <= {"not checked", "does not apply"}
    for each in results:
        if each.status == "does not apply":  # only what the place says nothing of
            assert not set(each.check.limits) & set(book.limits), each.check.id
    told = check_water(WaterFacts(), book, place="A")
    assert {each.severity for each in told} == {"watch"}
    assert len({each.id for each in told}) == len(told)


SPOILED = [
    ("flashing.shingled", "stop", {"laps_shingled": False}),
    ("flashing.reaches", "stop", {"reaches_outside": False}),
    ("flashing.standard", "fix", {"to_standard": False}),
    ("strip.width", "fix", {"strips_self_adhered": False, "strip_width": 6.0}),
    ("strip.jamb_above_head", "fix", {"jamb_above_head_fin": 3.9}),
    ("strip.head_beyond_jamb", "fix", {"head_beyond_jamb": 0.9}),
    (
        "strip.loose",
        "fix",
        {
            "wrap_first": False,
            "sill_strip_loose": 8.0,
            "sill_strip_length": 54.0,
            "opening_width": 36.0,
            "jamb_strip_width": 9.0,
        },
    ),
    (
        "strip.length",
        "fix",
        {
            "wrap_first": False,
            "sill_strip_loose": 9.0,
            "sill_strip_length": 53.0,
            "opening_width": 36.0,
            "jamb_strip_width": 9.0,
        },
    ),
    ("wrap.cut", "fix", {"wrap_cut": "X"}),
    ("wrap.flap_cut", "watch", {"head_flap_cut": 5.0}),
    ("wrap.behind_ledger", "fix", {"wrap_behind_ledger": False}),
    ("bead.bottom_open", "fix", {"bead_along_bottom": True}),
    ("bead.face_open", "fix", {"face_sealed_to_wrap": True}),
    ("bead.flap_open", "watch", {"head_flap_taped_solid": True}),
    ("pan.required", "fix", {"pan": False}),
    ("pan.drains", "fix", {"pan_drains": False}),
    ("pan.head_and_jambs", "fix", {"head_and_jambs_flashed": False}),
    ("pan.barrier", "fix", {"drained": False, "sheltered": False}),
    ("pan.upturn", "fix", {"pan_upturn": 3.0}),
    ("pan.upturn_full", "watch", {"pan_upturn": 5.0}),
    ("dam.back", "fix", {"back_dam": 0.8}),
    ("dam.end_needed", "fix", {"end_dams": False}),
    ("dam.end", "fix", {"end_dam": 0.8}),
    ("wood.framing_mc", "watch", {"framing_mc_pct": 20.0}),
    ("wood.decay", "fix", {"framing_mc_pct": 31.0}),
    ("pan.past_below", "fix", {"pan_past_below": 0.2, "place": "canada-ontario"}),
    ("sill.slope", "fix", {"sill_slope_pct": 5.0, "place": "canada-ontario"}),
    ("flashing.drip", "fix", {"drip_offset": 0.1, "place": "canada-ontario"}),
    (
        "sill.drip_out",
        "fix",
        {
            "concealed_flashing": False,
            "sill_above_grade": 30.0,
            "sill_drip_out": 0.9,
            "place": "canada-ontario",
        },
    ),
    (
        "sill.self_drip",
        "fix",
        {"self_flashing_sill": True, "self_flashing_drip": 0.1, "place": "canada-ontario"},
    ),
    (
        "head.eave",
        "fix",
        {"head_flashing": False, "eave_above_trim": 12.0, "eave_overhang": 24.0, "place": "canada-ontario"},
    ),
    ("sealant.class", "fix", {"sealant_aama_800": False, "sealant_class": 12.5, "place": "florida"}),
]


@pytest.mark.parametrize(("rule", "severity", "changed"), SPOILED, ids=[each[0] for each in SPOILED])
def test_one_thing_wrong_is_told_once_by_its_own_check(
    rule: str, severity: str, changed: dict[str, Any]
) -> None:
    stated = dict(changed)
    book = rule_book("2018", stated.pop("place", "us-model-code"))
    (found,) = check_water(WaterFacts(**{**GOOD, **stated}), book, place="A")
    assert (found.id, found.severity, found.place) == (f"finding.{rule}.A", severity, "A")
    assert found.source
    assert "{" not in found.message
    assert "Who decides" in found.advice


def test_every_check_of_an_opening_is_spoiled_above() -> None:
    assert {each[0] for each in SPOILED} == {each.id for each in OPENING}


def test_a_check_names_facts_and_limits_that_exist() -> None:
    ids = {row.keys["id"] for row in load_table("water").rows}
    fields = {each.name for facts in (WaterFacts, LapFacts, StickFacts) for each in dataclasses.fields(facts)}
    for check in CHECKS:
        assert set(check.facts) <= fields, check.id
        assert set(check.limits) <= ids, check.id


def test_every_fact_is_asked_for_by_some_check() -> None:
    asked = {name for check in OPENING for name in check.facts}
    assert {each.name for each in dataclasses.fields(WaterFacts)} == asked


def test_every_limit_of_the_table_is_used() -> None:
    used = {name for check in CHECKS for name in check.limits}
    ids = {row.keys["id"] for row in load_table("water").rows}
    assert {each for each in ids - used if not each.startswith("nafs.")} == set()


@pytest.mark.parametrize("place", PLACES)
def test_every_check_can_be_listed_with_its_source(place: str) -> None:
    listed = catalogue(CHECKS, rule_book("2018", place))
    assert len(listed) == len(CHECKS)
    for each in listed:
        assert each.source
        assert each.limits
        assert each.edition == ""


def test_a_source_is_that_of_the_place() -> None:
    none = WaterFacts(end_dams=False)
    assert (
        examine_one("dam.end_needed", none, ONTARIO, place="A").source
        == "Ontario Building Code 9.27.3.8(4)(c)"
    )
    assert examine_one("dam.end_needed", none, MODEL, place="A").source.startswith("Building Science Corp")


def test_a_place_without_a_number_for_the_slope_does_not_judge_it_until_a_town_does() -> None:
    flat = WaterFacts(sill_slope_pct=0.5)
    result = examine_one("sill.slope", flat, MODEL, place="A")
    assert (result.status, result.source) == ("does not apply", "no number for us-model-code was read")
    assert (result.value, result.why) == ("0.5 %", "no number for us-model-code was read")
    text = 'title = "Town"\n[[limit]]\nid = "sill.slope"\nvalue = 2\n'
    town = amended(MODEL, text, name="town.toml", check_ids=())
    judged = examine_one("sill.slope", flat, town, place="A")
    assert (judged.status, judged.limit, judged.source) == (
        "not met",
        "at least 2 %",
        "local amendment: town.toml (Town)",
    )


def test_a_rule_may_be_lifted_or_struck_locally() -> None:
    wet = WaterFacts(pan=False)
    lifted = 'title = "Town"\n[[limit]]\nid = "pan.required"\nvalue = 0\n'
    struck = 'title = "Town"\n[[strike]]\ncheck = "pan.required"\n'
    for text, status in ((lifted, "does not apply"), (struck, "struck out")):
        book = amended(MODEL, text, name="town.toml", check_ids=[check.id for check in CHECKS])
        assert examine_one("pan.required", wet, book, place="A").status == status


def test_an_eave_shelters_only_where_the_place_says_so() -> None:
    assert eave_shelters(10.0, 40.0, ONTARIO)
    assert not eave_shelters(10.1, 40.0, ONTARIO)
    assert not eave_shelters(0.0, 40.0, MODEL)


def test_lengths_are_shown_in_the_jobs_unit() -> None:
    (found,) = (
        each for each in check_water(WaterFacts(**{**GOOD, "back_dam": 0.8}), ONTARIO, place="A", units="mm")
    )
    assert (found.value, found.limit) == ("20.3 mm", "at least 22.0 mm for water under 4.5 psf")


@pytest.mark.parametrize(
    "stated",
    [{"back_dam": -1.0}, {"water_psf": float("nan")}, {"wrap_cut": "Y"}, {"opening_width": 0.0}],
)
def test_facts_that_cannot_be_are_refused(stated: dict[str, Any]) -> None:
    with pytest.raises(BadInput):
        WaterFacts(**stated)


def test_a_check_that_does_not_go_by_these_facts_is_refused() -> None:
    with pytest.raises(KeyError):
        examine_one("lap.wrap_horizontal", WaterFacts(), MODEL, place="A")


def test_florida_alone_asks_for_a_class_of_sealant() -> None:
    facts = WaterFacts(sealant_class=12.5, sealant_aama_800=False)
    assert examine_one("sealant.class", facts, FLORIDA, place="A").status == "not met"
    assert examine_one("sealant.class", facts, MODEL, place="A").status == "does not apply"
