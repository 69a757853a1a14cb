"""Heights, ledger and checks of the example jobs with more said of their decks; invented data."""

from __future__ import annotations

import re
from dataclasses import fields
from functools import cache
from typing import get_args

import pytest
from tests.deck_jobs import BUNGALOW, METRIC, VILLA, full, with_deck

from sillwright.deck import CHECKS as LEDGER_CHECKS
from sillwright.errors import BadInput
from sillwright.inspection import EngineerSheet
from sillwright.inspection.openings import _PANE
from sillwright.job import Pane, UnitFacts, read_job
from sillwright.job import deck as job_deck
from sillwright.job import facts as job_facts
from sillwright.lengths import show
from sillwright.opening import CHECKS as OPENING_CHECKS
from sillwright.opening import OpeningFacts
from sillwright.opening import facts as opening_facts
from sillwright.plan import Plan, plan
from sillwright.rules import amended, rule_book
from sillwright.structure.backing import BAD_BACKINGS, GOOD_BACKINGS
from sillwright.structure.layout import CLEARANCE
from sillwright.structure.ledger import SOFT_SHEATHING, WOOD_SHEATHING
from sillwright.structure.spans import BEAM_SIZES, POST_SIZES, SPECIES

DERIVED = {
    "kind": "the unit's kind",
    "year_built": "site.year_built",
    "climate_zone": "site.climate_zone",
    "high_or_windborne": "site.high_or_windborne",
    "ground_snow_psf": "site.ground_snow_psf",
    "door_width": "the frame",
    "header_span": "the readings",
    "drops": "unit.facts.drop",
}
"""Facts of an opening that a job states elsewhere, and where."""


@cache
def planned(deck: str = "", more: str = "") -> Plan:
    """Return the plan of the bungalow with keys added to its deck, and sections at its end."""
    return plan(read_job(with_deck(deck, more=more)))


def ids(made: Plan, severity: str = "") -> list[str]:
    return [each.id for each in made.findings if severity in ("", each.severity)]


# --- one vocabulary -----------------------------------------------------------------------------------------


def test_a_job_can_state_every_fact_that_the_checks_of_an_opening_ask_for() -> None:
    stated = set(UnitFacts.model_fields) - {"drop"} | set(Pane.model_fields) | set(DERIVED)
    assert stated == {each.name for each in fields(OpeningFacts)}
    assert set(_PANE) == set(Pane.model_fields)


@pytest.mark.parametrize("name", ["Room", "PaneToDoor", "GuardPlace"])
def test_a_job_and_the_checks_know_the_same_words(name: str) -> None:
    assert get_args(getattr(job_facts, name)) == get_args(getattr(opening_facts, name))


def test_a_job_and_the_tables_know_the_same_backings_woods_beams_and_sheathings() -> None:
    assert get_args(job_deck.Backing) == (*GOOD_BACKINGS, *BAD_BACKINGS)
    assert get_args(job_deck.Species) == SPECIES
    assert get_args(job_deck.Beam) == BEAM_SIZES
    assert get_args(job_deck.Post) == POST_SIZES
    assert set(get_args(job_deck.SheathingKind)) == {*WOOD_SHEATHING, *SOFT_SHEATHING, "none"}


# --- heights ------------------------------------------------------------------------------------------------


def test_the_heights_of_the_bungalow_add_up_from_the_line_to_the_ledger() -> None:
    made = planned()
    assert made.heights is not None
    z = {level.name: level.z for level in made.heights.levels}
    line = made.setting.rows[0].lines[0]
    assert z["unit bottom"] == pytest.approx(line.unit_bottom)
    assert z["threshold"] == pytest.approx(line.unit_bottom + 1.375)
    assert z["walking surface"] == pytest.approx(line.unit_bottom + 1.375 - 1.5)
    assert z["ledger top"] == pytest.approx(line.unit_bottom + 1.375 - 1.5 - 1.0)


def test_a_job_without_a_deck_has_no_heights_and_says_once_what_it_does_not_check() -> None:
    text = BUNGALOW[: BUNGALOW.index("[deck]")] + BUNGALOW[BUNGALOW.index("# Shims on hand") :]
    made = plan(read_job(text))
    assert (made.heights, made.ledger, made.framing) == (None, None, ())
    assert [row.id for row in made.inspection] == ["finding.openings.unsaid"]


def test_what_the_heights_lack_is_said_once_by_its_keys() -> None:
    text = BUNGALOW.replace("threshold_above_unit_bottom", "# threshold_above").replace(
        "decking_thickness ", "# decking "
    )
    made = plan(read_job(text))
    (lack,) = [each for each in made.findings if each.id == "finding.heights.unsaid"]
    assert "deck.threshold_above_unit_bottom, deck.decking_thickness" in lack.message
    assert made.heights is None


def test_a_ledger_above_the_sill_is_refused_with_both_heights() -> None:
    with pytest.raises(BadInput, match=r"deck\.ledger_top: the ledger's top at 3\" is above the sill"):
        planned("ledger_top = 3")


def test_a_ledger_fixed_by_hand_lets_the_joists_hang_as_the_step_wants() -> None:
    made = planned("ledger_top = '1/2'\njoist_depth = '7 1/4'")
    assert made.heights is not None
    z = {level.name: level.z for level in made.heights.levels}
    assert z["ledger top"] == 0.5
    assert z["joist top"] == pytest.approx(0.125)


# --- ledger -------------------------------------------------------------------------------------------------


def test_the_ledger_of_the_bungalow_keeps_the_spacing_of_the_table_and_alternates_rows() -> None:
    ledger = planned().ledger
    assert ledger is not None
    # IRC Table R507.9.1.3(1): 1/2 in lag screws, joists to 12 ft, 15/32 to 1/2 in sheathing: 15 in
    assert ledger.spacing == 15.0
    gaps = [b.from_left - a.from_left for a, b in zip(ledger.fasteners, ledger.fasteners[1:], strict=False)]
    assert max(gaps) <= 15.0
    assert {a.row != b.row for a, b in zip(ledger.fasteners, ledger.fasteners[1:], strict=False)} == {True}
    assert not ledger.from_memory


def test_the_spacing_of_the_fasteners_stands_on_the_sheet_with_its_row() -> None:
    made = planned()
    assert made.ledger is not None
    assert made.ledger.greatest_gap is not None
    (row,) = (each for each in made.inspection if each.id == "check.ledger.spacing")
    # IRC Table R507.9.1.3(1): lag screws, 1/2 in of sheathing, joists of 11 ft: the row of 12 ft, 15 in
    assert (row.value, row.limit) == (show(made.ledger.greatest_gap, mark=True), 'at most 15"')
    assert "joist span (ft) 12" in row.source
    assert not row.from_memory


def test_a_spacing_between_two_rows_is_marked_as_the_leave_for_it_is_from_memory() -> None:
    made = planned(more='\n[code]\nedition = "2021"\n')
    (row,) = (each for each in made.inspection if each.id == "check.ledger.spacing")
    assert (row.limit, row.from_memory) == ('at most 16 1/2"', True)  # halfway between 18 and 15 in


def test_a_row_at_its_very_limit_is_no_finding() -> None:
    """The low row lands on 6 1/2 in below the top of a 2x10, but for the last bits of a sum."""
    made = full()[1]
    rows = {each.id: each for each in made.inspection}
    assert rows["check.ledger.low_row.ledger"].value == '6 1/2"'
    assert "finding.ledger.low_row.ledger" not in ids(made)


def test_ledger_and_story_pole_tell_the_same_two_rows() -> None:
    made = planned()
    assert made.heights is not None
    assert made.ledger is not None
    z = {level.name: level.z for level in made.heights.levels}
    rows = {each.row: each.z for each in made.ledger.fasteners}
    assert rows["low"] == pytest.approx(z["lower row"])
    assert rows["high"] == pytest.approx(z["upper row"])


def test_no_fastener_stands_in_a_joist_hanger_or_an_obstacle() -> None:
    ledger = planned("obstacle = [{ x = 100, width = 4, what = 'hose bib' }]").ledger
    assert ledger is not None
    for each in ledger.fasteners:
        assert all(abs(each.from_left - joist) >= 0.75 + 1.5 + CLEARANCE for joist in ledger.joists)
        assert abs(each.x - 100) >= 2.75


@pytest.mark.parametrize(
    ("deck", "stop"),
    [
        ("backing = 'hollow block'", "finding.ledger.backing"),
        ("backing = 'solid blocking'", "finding.ledger.backing"),
        ("nailed = true", "finding.ledger.nails"),
        ("beams_on_ledger = true", "finding.ledger.point-load"),
        ("band_bears_fully = false", "finding.ledger.band-bearing"),
    ],
)
def test_what_a_ledger_may_not_hang_on_or_by_is_a_stop(deck: str, stop: str) -> None:
    assert stop in ids(planned(deck), "stop")


def test_what_hangs_a_ledger_was_read_in_one_edition_and_the_other_says_so() -> None:
    old, new = (
        planned("nailed = true", f'\n[code]\nedition = "{edition}"\n') for edition in ("2018", "2021")
    )
    rows = [row for made in (old, new) for row in made.inspection if row.id == "finding.ledger.nails"]
    assert [row.from_memory for row in rows] == [False, True]
    assert rows[1].source == "IRC 2018 R507.8; that 2021 has the same is from memory"


def test_a_span_beyond_the_table_is_a_stop_and_leaves_no_fasteners() -> None:
    made = plan(read_job(BUNGALOW.replace("joist_span_ft               = 11.0", "joist_span_ft = 19")))
    assert "finding.ledger.table" in ids(made, "stop")
    assert made.ledger is not None
    assert (made.ledger.fasteners, made.ledger.spacing) == ((), None)


def test_lateral_ties_are_placed_at_joists_and_checked() -> None:
    made = planned("ties = 'exterior'\ntie_capacity_lb = 700")
    assert made.ledger is not None
    assert len(made.ledger.ties) == 4
    assert set(made.ledger.ties) <= set(made.ledger.joists)
    assert "finding.tie.capacity.ledger" in ids(made, "fix")  # IRC R507.9.2: four of 750 lbf


def test_a_local_amendment_moves_the_fasteners_and_is_named_in_the_source() -> None:
    text = 'title = "Invented town"\n[[limit]]\nid = "ledger.top_edge"\nvalue = 3.75\nsection = "local 1"\n'
    book = amended(rule_book("2018"), text, name="town.toml", check_ids=())
    made = plan(read_job(BUNGALOW), book)
    (row,) = [each for each in made.inspection if each.id == "check.ledger.top_edge.ledger"]
    assert "town.toml" in row.source
    high = [each.below_top for each in made.ledger.fasteners if each.row == "high"] if made.ledger else []
    assert min(high) >= 3.75


def test_a_towns_own_row_of_the_ledger_table_brings_the_fasteners_closer_and_is_named() -> None:
    text = (
        'title = "Invented town"\n[[row]]\ntable = "ledger_spacing"\nload_kind = "live"\nfastener = "lag"\n'
        'sheathing = "0.5"\nload_psf = 40\njoist_span_ft = 12\nspacing = 13.5\n'
    )
    book = amended(rule_book("2018"), text, name="town.toml", check_ids=())
    made = plan(read_job(BUNGALOW), book)
    assert made.ledger is not None
    assert made.ledger.spacing == 13.5
    assert made.ledger.greatest_gap is not None
    assert made.ledger.greatest_gap <= 13.5
    (row,) = (each for each in made.inspection if each.id == "check.ledger.spacing")
    assert "town.toml" in row.source


def test_amendments_named_but_not_read_are_refused() -> None:
    with pytest.raises(BadInput, match=r"the local amendments in town\.toml were not read"):
        planned(more='\n[code]\namendments = "town.toml"\n')


# --- framing ------------------------------------------------------------------------------------------------


def test_joists_too_long_for_their_table_stop_and_the_least_that_works_is_told() -> None:
    made = planned("species = 'hem_fir'\njoist_depth = '5 1/2'\nledger_top = '1/8'")
    values = {each.id: each for each in made.framing}
    assert not values["framing.joist"].met
    assert values["framing.joist.least"].value.startswith("2x")
    assert "finding.framing.joist" in ids(made, "stop")


def test_overhangs_and_posts_are_looked_up_and_held_against_what_is_stated() -> None:
    deck = "species = 'douglas_fir_larch'\njoist_depth = '7 1/4'\nbeam = '2-2x10'\nbeam_span_ft = 6\n"
    values = {each.id: each for each in planned(deck).framing}
    # IRC 2018 Table R507.6, 2x8 at 16 in (from memory): 2 ft 1 in; R507.5: a quarter of 6 ft;
    # R507.4: 6x6 to 14 ft (from memory)
    assert values["framing.joist.overhang"].value == 'to 25"'
    assert values["framing.beam.overhang"].value == 'to 18"'
    assert values["framing.post"].value == 'to 168"'
    assert values["framing.post"].what == "greatest height of posts 6x6"
    far = planned(deck + "joist_overhang = 26\nbeam_overhang = 18\n")
    held = {each.id: each.met for each in far.framing}
    assert (held["framing.joist.overhang"], held["framing.beam.overhang"]) == (False, True)
    assert "finding.framing.joist.overhang" in ids(far, "stop")
    assert "finding.ledger.uplift" in ids(
        far, "fix"
    )  # IRC 2018 R507.8: joists that run on lift the ledger end


@pytest.mark.parametrize(
    ("boards", "limit", "met"),
    [
        ("decking = 'wood'", 'at most 16"', True),  # IRC 2018 Table R507.7, 5/4 boards square to the joists
        ("decking = 'wood'\ndecking_diagonal = true", 'at most 12"', False),
        ("decking = 'composite'", "", True),
    ],
)
def test_joists_stand_close_enough_for_the_boards(boards: str, limit: str, met: bool) -> None:
    made = planned(boards)
    (value,) = (each for each in made.framing if each.id == "framing.decking")
    assert (value.asked, value.met) == (limit, met)
    assert ("finding.framing.decking" in ids(made, "stop")) == (not met)


def test_boards_thinner_than_the_table_need_an_engineer() -> None:
    text = BUNGALOW.replace('decking_thickness           = "1"', 'decking_thickness = "3/4"')
    made = plan(read_job(with_deck("decking = 'wood'", text=text)))
    (stop,) = (each for each in made.findings if each.id == "finding.framing.decking.outside")
    assert (
        "outside this table: needs an engineer; boards 0.75 in thick are thinner than the 1 in"
        in stop.message
    )


def test_framing_by_tables_of_another_edition_is_told_and_nothing_of_it_counts_as_met() -> None:
    deck = "species = 'douglas_fir_larch'\njoist_depth = '7 1/4'\nbeam = '3-2x10'\nbeam_span_ft = 6\n"
    old, new = (planned(deck, f'\n[code]\nedition = "{edition}"\n') for edition in ("2018", "2021"))
    assert "finding.framing.edition" not in ids(old)
    assert "finding.framing.edition" in ids(new, "fix")
    for made, came in ((old, "met"), (new, "to know")):
        rows = {row.id: row for row in made.inspection if row.id.startswith("check.framing.")}
        assert rows["check.framing.joist"].result == came
        told = [row for row in rows.values() if ", not of 2021" in row.source]
        assert len(told) == (0 if made is old else len(rows) - 2)  # less guard post and the 2021 drawing
        assert rows["check.framing.joist"].from_memory


def test_joists_that_end_on_the_beam_have_no_overhang_and_a_contradiction_is_refused() -> None:
    deck = "species = 'hem_fir'\njoist_depth = '7 1/4'\n"
    for said in ("joists_cantilever = false\n", "joist_overhang = 0\n"):
        made = planned(deck + said)
        assert "framing.joist.overhang" not in {each.id for each in made.framing}
    with pytest.raises(BadInput, match="joists_cantilever and joist_overhang contradict each other"):
        planned(deck + "joists_cantilever = false\njoist_overhang = 12\n")


def test_posts_are_as_tall_as_from_the_footing_to_the_beam_and_too_tall_is_a_stop() -> None:
    deck = "beam = '3-2x10'\nbeam_span_ft = 6\nfooting_above_grade = 3\njoist_depth = '7 1/4'\n"
    low = planned(deck + "grade = -60")
    assert low.heights is not None
    z = {level.name: level.z or 0.0 for level in low.heights.levels}
    values = {each.id: each for each in low.framing}
    assert values["framing.post"].value == show(z["beam bottom"] - z["footing top"], mark=True)
    assert values["framing.post.least"].value.startswith("4x4, to 81")  # R507.4, three plies: from memory
    assert "on a post cap" in values["framing.post.least"].row
    high = planned(deck + "grade = -120\npost = '4x4'")
    assert "finding.framing.post" in ids(high, "stop")


@pytest.mark.parametrize(
    ("more", "stop"),
    [
        ("live_load_psf = 60", "finding.framing.joist-overhang.outside"),
        ("live_load_psf = 60", "finding.framing.beam-overhang.outside"),
        ("live_load_psf = 60", "finding.framing.post.outside"),
    ],
)
def test_outside_their_tables_overhangs_and_posts_need_an_engineer(more: str, stop: str) -> None:
    deck = "species = 'hem_fir'\nbeam = '2-2x10'\nbeam_span_ft = 6\njoist_overhang = 12\n"
    text = BUNGALOW.replace("live_load_psf               = 40", more)
    made = plan(read_job(with_deck(deck, text=text)))
    (found,) = [each for each in made.findings if each.id == stop]
    assert found.severity == "stop"
    assert "outside this table: needs an engineer; a load of 60 psf" in found.message


def test_the_load_of_a_guard_post_is_told_with_its_source_unless_there_is_none() -> None:
    (guard,) = [each for each in planned().framing if each.id == "framing.guard-post"]
    assert guard.value.startswith("200 lbf at its top in any direction: 7,200 in lbf")
    assert guard.source == "IRC 2018 Table R301.5 (from memory)"
    without = planned("guard_posts_on_edge = false")
    assert "framing.guard-post" not in {each.id for each in without.framing}


def test_posts_stand_in_by_the_beams_overhang() -> None:
    frame = planned("beam_span_ft = 7\nbeam_overhang = 12\npost = '4x4'").frame
    assert frame is not None
    assert (frame.posts[0], frame.posts[-1]) == (12.0, frame.length - 12.0)
    assert max(b - a for a, b in zip(frame.posts, frame.posts[1:], strict=False)) <= 84.0
    assert frame.post_side == 3.5


# --- lag screws ---------------------------------------------------------------------------------------------


def test_the_tip_of_a_lag_screw_is_out_past_the_band_joist_and_not_counted() -> None:
    ledger = planned().ledger
    assert ledger is not None
    assert ledger.lag is not None
    # 1-1/2 ledger, 1/2 sheathing, 1-1/2 band joist, 5/16 tip (NDS appendix L, from memory): a 4 in screw
    assert (ledger.lag.length, ledger.lag.tip, ledger.lag.penetration) == (4.0, 0.3125, 1.5)
    rim = planned("backing = '1 in engineered rim'").ledger
    assert rim is not None
    assert rim.lag is not None
    assert (rim.lag.length, rim.lag.penetration) == (3.5, 1.0)
    bolted = planned("fastener = 'bolt'").ledger
    assert bolted is not None
    assert bolted.lag is None


# --- by calculation -----------------------------------------------------------------------------------------

WALL = """\
[unit.facts]
bearing_wall = true
widened = true
floors_above = 0
building_width_ft = 26
header_no2 = true
header_top_braced = true
"""


def sheets(made: Plan) -> dict[str, EngineerSheet]:
    return {each.id: each for each in made.engineer}


def with_header(keys: str = "", *, facts: str = WALL, text: str = BUNGALOW) -> Plan:
    second = text.index('[[unit]]\nopening              = "B"')
    return plan(read_job(text[:second] + facts + keys + text[second:]))


def test_the_ledger_of_a_job_is_calculated_for_the_engineer_with_its_own_layout() -> None:
    made = planned("fastener = 'bolt'\nspecies = 'hem_fir'")
    sheet = sheets(made)["calc.ledger"]
    values = {each.id.removeprefix("calc.ledger."): each for each in sheet.values}
    assert sheet.note == "for your engineer"
    assert {f"mode-{mode}" for mode in ("Im", "Is", "II", "IIIm", "IIIs", "IV")} <= set(values)
    assert [each.id for each in sheet.values if each.governs] == ["calc.ledger.mode-II"]
    assert made.ledger is not None
    gaps = [
        b.from_left - a.from_left
        for a, b in zip(made.ledger.fasteners, made.ledger.fasteners[1:], strict=False)
    ]
    assert values["rows"].number == pytest.approx(min(gaps))
    assert {each.name: each.text for each in values["demand"].inputs}["gap"] == f"{max(gaps):g} in"
    assert "band joist of spruce-pine-fir" in " ".join(sheet.taken)
    assert all(each.formula and each.inputs and each.source for each in sheet.values)


def test_a_ledger_of_lag_screws_says_why_there_is_no_value_and_has_bolts_beside() -> None:
    found = sheets(planned())
    assert "needs 2 in of hold in the main member and has 1.5 in" in found["calc.ledger"].refused
    assert found["calc.ledger-bolts"].answer.startswith("at most ")


def test_outside_the_table_the_stop_stays_and_the_arithmetic_stands_beside() -> None:
    text = BUNGALOW.replace("joist_span_ft               = 11.0", "joist_span_ft = 19\nfastener = 'bolt'")
    made = plan(read_job(text))
    (stop,) = [each for each in made.findings if each.id == "finding.ledger.table"]
    assert stop.severity == "stop"
    assert "outside this table: needs an engineer" in stop.message
    sheet = sheets(made)["calc.ledger"]
    assert sheet.answer
    assert "distances: the least of the code's table" in sheet.taken


@pytest.mark.parametrize(
    ("deck", "said"),
    [
        ("backing = 'hollow block'", "nothing to calculate: the backing is hollow block"),
        ("backing = 'veneer'", "nothing to calculate: the backing is veneer"),
    ],
)
def test_what_is_no_wood_has_nothing_to_calculate(deck: str, said: str) -> None:
    assert sheets(planned(deck))["calc.ledger"].refused == said


def test_what_the_job_does_not_state_is_named_by_its_key() -> None:
    assert sheets(planned())["calc.deck"].refused == "not stated in the job: deck.species"
    bare = with_header(facts="[unit.facts]\nbearing_wall = true\n")
    assert (
        sheets(bare)["calc.header.A"].refused
        == "not stated in the job: unit.facts.building_width_ft, unit.facts.floors_above"
    )


def test_joists_beam_posts_and_footings_are_calculated_as_far_as_they_are_stated() -> None:
    deck = "species = 'hem_fir'\njoist_depth = '7 1/4'\nbeam = '3-2x10'\nbeam_span_ft = 6\nsoil_psf = 1500\n"
    found = sheets(planned(deck + "grade = -60\npost = '6x6'"))
    assert {"calc.joist", "calc.beam", "calc.post", "calc.footing"} <= set(found)
    # statics: 50 psf on 6 ft of beam and half of 11 ft
    (load,) = [each for each in found["calc.post"].values if each.id == "calc.post.load"]
    assert load.number == pytest.approx(1650.0)
    assert "calc.post" not in sheets(planned(deck))  # its height is not known


def test_a_header_is_calculated_in_the_wood_used_most_and_a_named_one_as_it_is() -> None:
    least = sheets(with_header())["calc.header.A"]
    assert "weakest of the woods" in least.answer
    assert sum(each.governs for each in least.values) == 1
    small = sheets(with_header("header = '2-2x6'\njack_studs = 1\n"))["calc.header.A"]
    assert small.answer.endswith(": too much")
    assert "jack studs at each end" in small.answer


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ("floors_above = 2\n", "2 floors above are more than the 1"),
        ("header_no2 = false\n", "the lumber is not No. 2 or better"),
        ("header = '2-2x99'\n", "2-2x99 is no header of the code's table"),
    ],
)
def test_a_header_beyond_the_calculation_needs_an_engineer(keys: str, said: str) -> None:
    name = keys.partition(" =")[0]
    facts = "".join(line for line in WALL.splitlines(keepends=True) if not line.startswith(f"{name} ="))
    refused = sheets(with_header(keys, facts=facts))["calc.header.A"].refused
    assert refused.startswith(f"outside this table: needs an engineer; {said}")


def test_a_wall_that_bears_nothing_has_no_header_to_calculate() -> None:
    assert "calc.header.A" not in sheets(with_header(facts="[unit.facts]\nbearing_wall = false\n"))


def test_a_metric_job_reads_the_calculation_in_its_units_too() -> None:
    text = VILLA.replace("ledger_depth                = 190", "ledger_depth = 235")
    made = plan(read_job(with_deck(METRIC + "fastener = 'bolt'\n", text=text)))
    sheet = sheets(made)["calc.ledger"]
    assert re.fullmatch(r"at most \d+ mm on centre; mode II governs: .*", sheet.answer)
    (load,) = [each for each in sheet.values if each.id == "calc.ledger.line-load"]
    # NIST SP 811 app. B.8: 1 lbf/ft = 14.5939 N/m
    assert load.text == f"{load.number:,.0f} lbf/ft ({load.number * 0.0145939:.3f} kN/m)"


# --- openings -----------------------------------------------------------------------------------------------

FACTS = """
[[unit.pane]]
safety_glass = false
pane_passes_3in_sphere = true
pane_decorative = false
"""


def with_facts(facts: str) -> Plan:
    first = BUNGALOW.index('[[unit]]\nopening              = "B"')
    return plan(read_job(BUNGALOW[:first] + facts + "\n" + BUNGALOW[first:]))


def test_ordinary_glass_in_a_door_is_told_with_its_clause() -> None:
    made = with_facts(FACTS)
    (glass,) = [each for each in made.findings if each.id == "finding.glass.in_door.A"]
    assert "R308.4.1" in glass.source
    assert glass.severity in ("stop", "fix")


@pytest.mark.parametrize("edition", ["2018", "2021"])
def test_every_number_that_nobody_read_is_marked_on_the_sheet(edition: str) -> None:
    """All single limits of 2021 are from memory, of 2018 those that the table of limits says."""
    job = full()[0]
    job = job.model_copy(
        update={
            "code": job.code.model_copy(update={"edition": edition}),
            "water": job.water.model_copy(update={"scheme": "none"}),
        }
    )
    checks = {check.id: check for check in (*OPENING_CHECKS, *LEDGER_CHECKS)}
    limits = rule_book(edition).limits
    seen = 0
    for row in plan(job).inspection:
        _, _, rest = row.id.partition(".")
        check = next((each for ident, each in checks.items() if rest.startswith(f"{ident}.")), None)
        if check is None or not check.limits or not re.search(r"\d", row.limit):
            continue
        doubts = {limits[name].from_memory for name in check.limits}
        if len(doubts) == 1:  # where a check has limits of both kinds, it is by the one it used
            assert row.from_memory == doubts.pop(), row.id
            seen += 1
    assert seen > 12


def test_an_answer_settles_a_finding_and_stands_on_the_sheet() -> None:
    answer = '\n[[answer]]\nfinding = "finding.glass.in_door.A"\nby = "maker\'s label"\ndate = 2026-03-14\n'
    first = BUNGALOW.index('[[unit]]\nopening              = "B"')
    made = plan(read_job(BUNGALOW[:first] + FACTS + "\n" + BUNGALOW[first:] + answer))
    (row,) = [each for each in made.inspection if each.id == "finding.glass.in_door.A"]
    assert row.severity == "watch"
    assert "maker's label, 2026-03-14" in row.answer


def test_what_the_checks_of_a_unit_lack_is_gathered_not_told_forty_times() -> None:
    made = with_facts(FACTS)
    assert [each for each in ids(made) if "unchecked" in each] == ["finding.unchecked.A"]
    rows = [row for row in made.inspection if ".unchecked.A" in row.id]
    assert len(rows) > 5
    assert {row.result for row in rows} == {"not checked"}
    assert "B, C" in next(each.message for each in made.findings if each.id == "finding.openings.unsaid")


def test_heights_settle_the_drop_outside_the_door() -> None:
    made = with_facts("[unit.facts]\nrequired_egress_door = false\n")
    (row,) = [each for each in made.inspection if each.id == "check.threshold.outside.A"]
    assert row.value == '1 1/2"'
