"""Heights, ledger and checks of the example jobs with more said of their decks; invented data."""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from typing import get_args

import pytest
from tests.deck_jobs import BUNGALOW, with_deck

from sillwright.errors import BadInput
from sillwright.inspection.openings import _PANE
from sillwright.job import Pane, UnitFacts, read_job
from sillwright.job import deck as job_deck
from sillwright.job import facts as job_facts
from sillwright.opening import OpeningFacts
from sillwright.opening import facts as opening_facts
from sillwright.plan import Plan, plan
from sillwright.rules import amended, rule_book
from sillwright.structure.backing import BAD_BACKINGS, GOOD_BACKINGS
from sillwright.structure.layout import CLEARANCE
from sillwright.structure.ledger import SOFT_SHEATHING, WOOD_SHEATHING
from sillwright.structure.spans import BEAM_SIZES, SPECIES

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
