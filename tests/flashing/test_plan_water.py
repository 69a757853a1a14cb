"""The water plan of a job: what its faults come to as findings, and what must hold of it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from tests.flashing.dressings import PIECES, a_job
from tests.setting.walls import Hole, text_of
from tests.watered_fixture import WATER

from sillwright.flashing.plan_findings import water_findings
from sillwright.job import Job, read_job
from sillwright.plan import Plan, plan
from sillwright.plan_json import plan_to_json

ROLL_A = {"name": "roll A", "use": ["pan", "strip", "patch"], "family": "butyl tape", "width": 12}


@cache
def usual() -> Plan:
    return plan(a_job())


def planned(**water: Any) -> Plan:
    return plan(a_job(**water))


def found(of: Plan) -> dict[str, str]:
    """Return severity by id of the findings on water."""
    mine = ("finding.water.", "finding.lap.", "finding.pair.", "finding.unchecked.flashing")
    return {each.id: each.severity for each in of.findings if each.id.startswith(mine)}


def message(of: Plan, ident: str) -> str:
    return next(each.message for each in of.findings if each.id == ident)


def test_the_usual_scheme_is_nowhere_open() -> None:
    water = usual().water
    assert water is not None
    assert water.worst != "open"
    assert all(each.by_weight != "open" for each in water.places)
    assert "stop" not in found(usual()).values()
    assert [piece.number for piece in water.pieces] == list(range(1, len(water.pieces) + 1))
    assert {piece.opening for piece in water.pieces} == {"", "A"}


def test_a_head_strip_that_is_left_out_is_a_stop_in_the_rain() -> None:
    bad = planned(sheet=[{"name": "A.strip.head", "leave_out": True}])
    assert found(bad)["finding.water.rain.A"] == "stop"
    assert "the sheathing above A" in message(bad, "finding.water.rain.A")


def test_a_pan_after_the_unit_cannot_be_laid_and_leaks() -> None:
    bad = planned(sheet=[{"name": "A.pan", "after": "A.unit"}])
    assert found(bad)["finding.water.order.A.pan.work"] == "fix"
    assert found(bad)["finding.water.wind.A"] == "stop"
    water = bad.water
    assert water is not None
    assert [act.words for act in water.acts if act.wrong] == ["lay the pan of A"]


def test_the_job_s_own_order_is_told_wrong_and_the_scheme_s_is_not() -> None:
    assert not any(ident.startswith("finding.water.order") for ident in found(usual()))


def test_a_sheet_s_least_lap_counts_and_a_lap_without_a_number_is_asked() -> None:
    assert found(usual())["finding.lap.ask"] == "watch"
    assert "corner patch over the pan" in message(usual(), "finding.lap.ask")
    sheet = ROLL_A | {"sheet_date": "DATE", "least_lap": 4}
    strict = plan(_dated(sheet))
    short = [ident for ident in found(strict) if ident.startswith("finding.lap.patch_over_pan")]
    assert short
    assert all(found(strict)[ident] == "fix" for ident in short)
    assert "finding.lap.ask" not in found(strict)


def test_less_bond_than_the_lap_that_is_asked_for_is_told() -> None:
    lap = replace(WATER.laps[0], required=1.0, result="met")
    short = {each.id: each for each in water_findings(replace(WATER, laps=(lap,)), "in")}
    assert short["finding.water.bond.A"].severity == "fix"
    assert short["finding.water.bond.A"].value == '1/2"'
    assert short["finding.water.bond.A"].limit == 'at least 1"'
    enough = replace(WATER, laps=(replace(lap, required=0.5),))
    assert "finding.water.bond.A" not in {each.id for each in water_findings(enough, "in")}


def _dated(roll: dict[str, Any]) -> Job:
    """Return the usual job with a roll whose sheet is dated: TOML has dates, the test's writer has not."""
    text = text_of(Hole(name="A", left=30.0), water={"wall_pieces": PIECES, "roll": [roll]})
    return read_job(text.replace('"DATE"', "2026-02-11"))


def test_pairs_are_told_of_the_job_s_own_rolls_alone() -> None:
    assert not any(ident.startswith("finding.pair") for ident in found(usual()))
    asphalt = ROLL_A | {"family": "rubberized asphalt tape"}
    job = a_job(
        Hole(name="A", left=30.0, unit={"frame_family": "flexible PVC"}), roll=[asphalt], sheathing="OSB"
    )
    pairs = found(plan(job))
    assert pairs["finding.pair.roll A.unit of A"] == "stop"
    assert pairs["finding.pair.roll A.sheathing"] == "watch"


def test_what_was_taken_is_told_once_with_the_keys_that_state_it() -> None:
    told = next(each for each in usual().findings if each.id == "finding.water.assumed")
    assert 'a back dam of 1"' in told.message
    assert "water.back_dam" in told.advice
    assert "wrap wall wrap" in told.message
    assert "ledger" not in told.message
    owned = next(each for each in planned(roll=[ROLL_A]).findings if each.id == "finding.water.assumed")
    assert "pan butyl tape" not in owned.message
    assert "wrap wall wrap" in owned.message


def test_a_sill_that_falls_to_the_room_is_told_with_the_depth() -> None:
    bad = planned(sill_slope_pct=-4)
    assert found(bad)["finding.water.standing.A.sill"] == "fix"
    assert '3/16"' in message(bad, "finding.water.standing.A.sill")


def test_an_opening_that_is_left_out_is_told_with_the_reason() -> None:
    one = plan(a_job(Hole(name="A", left=30.0), Hole(name="B", left=90.0, head=None)))
    assert one.water is not None
    assert one.water.openings == ("A",)
    assert found(one)["finding.water.none.B"] == "watch"
    none = plan(a_job(Hole(name="A", left=30.0, head=None)))
    assert none.water is None
    assert message(none, "finding.water.none.A") == "No water plan for A: its head was not read."


def test_pieces_of_a_left_out_opening_are_passed_over_in_the_job_s_changes() -> None:
    job = a_job(
        Hole(name="A", left=30.0),
        Hole(name="B", left=90.0, head=None),
        sheet=[{"name": "B.pan", "leave_out": True}],
        order=["A.strip.right", "A.strip.left", "B.pan"],
    )
    assert plan(job).water is not None


def test_checks_of_flashing_stand_on_the_inspector_s_sheet() -> None:
    rows = {row.id: row for row in usual().inspection}
    assert rows["check.dam.back.A"].result == "met"
    assert rows["check.strip.jamb_above_head.A"].result == "met"
    assert rows["check.wrap.cut.A"].result == "not checked"
    low = planned(back_dam="1/4")
    assert "finding.dam.back.A" in {each.id for each in low.findings}


def test_a_leak_stands_on_the_inspector_s_sheet_and_may_be_answered() -> None:
    sheet = [{"name": "A.strip.head", "leave_out": True}]
    rows = {row.id: row for row in planned(sheet=sheet).inspection}
    assert rows["finding.water.rain.A"].result == "not met"
    assert rows["finding.water.rain.A"].severity == "stop"


def test_facts_of_the_flashing_are_checked() -> None:
    dry = planned(facts={"framing_mc_pct": 25})
    ids = {each.id: each.severity for each in dry.findings}
    assert "finding.wood.framing_mc.A" in ids


def test_a_stricter_place_asks_for_more() -> None:
    """A sill of 2 % is too flat for Ontario's 6 % (OBC 9.27.3.8(4)(b)); the model code sets no slope."""
    hole = Hole(name="A", left=30.0)
    usual_place = plan(a_job(hole, sill_slope_pct=2))
    ontario = plan(
        a_job(hole, sill_slope_pct=2).model_copy(
            update={"code": a_job(hole).code.model_copy(update={"place": "canada-ontario"})}
        )
    )
    assert "finding.sill.slope.A" not in {each.id for each in usual_place.findings}
    (told,) = (row for row in usual_place.inspection if row.id == "check.sill.slope.A")
    assert (told.value, told.limit) == ("2 %", "no number for us-model-code was read")
    assert (told.result, told.severity) == ("to know", None)
    assert "finding.sill.slope.A" in {each.id for each in ontario.findings}
    (told,) = (row for row in ontario.inspection if row.id == "finding.sill.slope.A")
    assert (told.value, told.limit, told.result) == ("2 %", "at least 6 %", "not met")


def test_the_same_job_gives_the_same_plan_and_a_mirrored_wall_the_same_verdicts() -> None:
    assert plan_to_json(plan(a_job())) == plan_to_json(usual())
    water = usual().water
    assert water is not None
    verdicts = {each.place: each.at_head for each in water.places}
    for name, verdict in verdicts.items():
        other = name.replace("left", "LEFT").replace("right", "left").replace("LEFT", "right")
        assert verdicts[other] == verdict


@pytest.mark.parametrize("scheme", ["strips under the fin", "stretched pan", "formed pan", "lined opening"])
def test_more_head_is_never_better(scheme: str) -> None:
    rank = {"sheds": 0, "held by bond": 1, "open": 2}
    before: dict[str, int] = {}
    for head in ("0", "1/2", "6"):
        water = planned(scheme=scheme, head=head).water
        assert water is not None
        now = {each.place: rank[each.at_head] for each in water.places}
        assert all(now[name] >= before.get(name, 0) for name in now)
        before = now


# --- what to cut


def test_the_cut_size_of_a_pan_is_its_parts_laid_flat() -> None:
    """Sill 36 1/2 with 6 in upturns; apron, 4 1/2 of sill and 1 of dam take all of a 12 in roll."""
    water = planned(roll=[ROLL_A]).water
    assert water is not None
    pan = next(each for each in water.cuts if each.piece == "A.pan")
    assert pan.make == "folded"
    assert pan.along == pytest.approx(36.5 + 2 * 6.0, abs=0.1)
    assert pan.across == pytest.approx(12.0, abs=0.1)
    assert pan.fits
    assert "left sill corner of A" in pan.said


def test_stock_on_hand_is_held_against_the_sum_of_the_cuts() -> None:
    scarce = planned(roll=[ROLL_A | {"length": "10 ft", "count": 1}])
    ids = {each.id: each.severity for each in scarce.findings}
    assert ids["finding.material.roll A"] == "fix"
    assert scarce.water is not None
    used = next(each for each in scarce.water.materials if each.roll == "roll A")
    cuts = [each for each in scarce.water.cuts if each.roll == "roll A"]
    assert used.length == pytest.approx(sum(each.along for each in cuts))
    assert used.result == "not enough"
    plenty = planned(roll=[ROLL_A | {"length": "100 ft", "count": 2}])
    assert "finding.material.roll A" not in {each.id for each in plenty.findings}


def test_a_roll_too_narrow_for_a_piece_is_told() -> None:
    narrow = {"name": "roll B", "use": ["patch"], "family": "butyl tape", "width": 6, "stretches": True}
    ids = {each.id: each.severity for each in planned(roll=[narrow]).findings}
    assert ids["finding.cutting.A.patch.sill.left"] == "fix"
